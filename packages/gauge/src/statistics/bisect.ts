/**
 * Where a growing function reaches a value: the two ends must lie on either side of it. Halves until the ends
 * are neighbours among the doubles, or 200 times.
 */
export function bisect(f: (x: number) => number, value: number, low: number, high: number): number {
  let [a, b] = [low, high];
  for (let i = 0; i < 200; i++) {
    const middle = (a + b) / 2;
    if (middle === a || middle === b) break;
    if (f(middle) < value) a = middle;
    else b = middle;
  }
  return (a + b) / 2;
}
