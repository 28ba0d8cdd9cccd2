import type { SegmentGraph } from './join-ends.js';

/** Which segments end at each node of a graph. */
export interface Neighbours {
  /** Where the segments of a node begin in the list; those of the last end at its end. */
  readonly first: Int32Array;
  readonly list: Int32Array;
}

/** The segments at each node, of those that are alive. */
export function neighboursOf(graph: SegmentGraph, alive: Uint8Array): Neighbours {
  const first = new Int32Array(graph.nodes.length + 1);
  graph.ends.forEach(([a, b], i) => {
    if (alive[i] === 0) return;
    first[a + 1]!++;
    first[b + 1]!++;
  });
  for (let n = 0; n < graph.nodes.length; n++) first[n + 1]! += first[n]!;
  const fill = first.slice();
  const list = new Int32Array(first[graph.nodes.length]!);
  graph.ends.forEach(([a, b], i) => {
    if (alive[i] === 0) return;
    list[fill[a]!++] = i;
    list[fill[b]!++] = i;
  });
  return { first, list };
}

/** Takes off, again and again, segments with an end at which nothing else ends; gives their numbers. */
export function peelLooseEnds(graph: SegmentGraph, at: Neighbours, alive: Uint8Array): number[] {
  const degree = new Int32Array(graph.nodes.length);
  graph.ends.forEach(([a, b], i) => {
    if (alive[i] === 0) return;
    degree[a]!++;
    degree[b]!++;
  });
  const queue: number[] = [];
  degree.forEach((d, n) => {
    if (d === 1) queue.push(n);
  });
  const out: number[] = [];
  for (let n = queue.pop(); n !== undefined; n = queue.pop())
    for (let k = at.first[n]!; k < at.first[n + 1]!; k++) {
      const s = at.list[k]!;
      if (alive[s] === 0) continue;
      alive[s] = 0;
      out.push(s);
      for (const m of graph.ends[s]!) {
        degree[m]!--;
        if (degree[m] === 1) queue.push(m);
      }
    }
  return out;
}
