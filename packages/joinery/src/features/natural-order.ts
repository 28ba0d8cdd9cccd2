/** Names in their natural order: e2 before e10. */
export function naturally(a: string, b: string): number {
  const [p, q] = [a.split(/(\d+)/), b.split(/(\d+)/)];
  for (let i = 0; i < Math.min(p.length, q.length); i++) {
    if (p[i] === q[i]) continue;
    const [m, n] = [Number(p[i]), Number(q[i])];
    if (i % 2 === 1 && m !== n) return m - n;
    if (i % 2 === 0) return p[i]! < q[i]! ? -1 : 1;
  }
  return p.length - q.length || (a < b ? -1 : a > b ? 1 : 0);
}
