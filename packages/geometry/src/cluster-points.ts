import type { Point } from './point.js';

/**
 * For each point the number of the point that stands for it. Points nearer than `tolerance` mm to each other
 * always have the same one, so that it does not matter which of them was found; a row of such points is taken
 * together as a whole. The choice, the leftmost and then lowest, depends on the points alone.
 */
export function clusterPoints(points: readonly Point[], tolerance: number): number[] {
  const order = points.map((_, i) => i);
  order.sort((i, j) => points[i]!.x - points[j]!.x || points[i]!.y - points[j]!.y || i - j);
  // Union-find over places in the order, the earlier place standing for the later.
  const leader = order.map((_, k) => k);
  const find = (k: number): number => {
    let root = k;
    while (leader[root] !== root) root = leader[root]!;
    leader[k] = root;
    return root;
  };
  for (let k = 1; k < order.length; k++) {
    const p = points[order[k]!]!;
    for (let m = k - 1; m >= 0; m--) {
      const q = points[order[m]!]!;
      if (p.x - q.x > tolerance) break;
      if (Math.abs(p.y - q.y) > tolerance || Math.hypot(p.x - q.x, p.y - q.y) > tolerance) continue;
      const a = find(k);
      const b = find(m);
      leader[Math.max(a, b)] = Math.min(a, b);
    }
  }
  const standsFor = new Array<number>(points.length);
  order.forEach((i, k) => {
    standsFor[i] = order[find(k)]!;
  });
  return standsFor;
}
