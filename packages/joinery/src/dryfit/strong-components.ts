/**
 * The strongly connected components of a directed graph over 0 … n − 1 (Tarjan 1972), each in ascending order; a
 * component comes after every component that it leads to.
 */
export function strongComponents(n: number, next: (i: number) => readonly number[]): number[][] {
  const index = new Array<number>(n).fill(-1);
  const low = new Array<number>(n).fill(0);
  const onStack = new Array<boolean>(n).fill(false);
  const stack: number[] = [];
  const out: number[][] = [];
  let count = 0;
  const visit = (root: number): void => {
    const work: { v: number; to: readonly number[]; at: number }[] = [];
    const enter = (v: number): void => {
      index[v] = low[v] = count++;
      stack.push(v);
      onStack[v] = true;
      work.push({ v, to: next(v), at: 0 });
    };
    enter(root);
    while (work.length > 0) {
      const frame = work.at(-1)!;
      if (frame.at < frame.to.length) {
        const w = frame.to[frame.at++]!;
        if (index[w] === -1) enter(w);
        else if (onStack[w]) low[frame.v] = Math.min(low[frame.v]!, index[w]!);
        continue;
      }
      work.pop();
      const parent = work.at(-1);
      if (parent) low[parent.v] = Math.min(low[parent.v]!, low[frame.v]!);
      if (low[frame.v] !== index[frame.v]) continue;
      const component: number[] = [];
      for (;;) {
        const w = stack.pop()!;
        onStack[w] = false;
        component.push(w);
        if (w === frame.v) break;
      }
      out.push(component.sort((a, b) => a - b));
    }
  };
  for (let v = 0; v < n; v++) if (index[v] === -1) visit(v);
  return out;
}
