/** A polynomial of one parameter in [0, 1] by its Bernstein coefficients; none of its values is beyond them. */
export type Bernstein = readonly number[];

const rows: number[][] = [[1]];

/** The binomial coefficients of degree n. */
function binomials(n: number): readonly number[] {
  for (let k = rows.length; k <= n; k++) {
    const last = rows[k - 1]!;
    rows.push(Array.from({ length: k + 1 }, (_, i) => (last[i - 1] ?? 0) + (last[i] ?? 0)));
  }
  return rows[n]!;
}

/** The product, whose degree is the sum of both (Farouki and Rajan, CAGD 5, 1988; from memory). */
export function product(a: Bernstein, b: Bernstein): number[] {
  const [m, n] = [a.length - 1, b.length - 1];
  const [cm, cn, call] = [binomials(m), binomials(n), binomials(m + n)];
  const out = new Array<number>(m + n + 1).fill(0);
  for (let i = 0; i <= m; i++) for (let j = 0; j <= n; j++) out[i + j]! += cm[i]! * cn[j]! * a[i]! * b[j]!;
  for (let k = 0; k <= m + n; k++) out[k]! /= call[k]!;
  return out;
}

/** The derivative; 0 of a constant. */
export function derivative(a: Bernstein): number[] {
  const n = a.length - 1;
  return n === 0 ? [0] : Array.from({ length: n }, (_, i) => n * (a[i + 1]! - a[i]!));
}

/** p·a + q·b of one degree. */
export const combine = (p: number, a: Bernstein, q: number, b: Bernstein): number[] =>
  a.map((v, i) => p * v + q * b[i]!);

/** The value at a parameter (de Casteljau). */
export function valueAt(a: Bernstein, t: number): number {
  const d = [...a];
  for (let r = a.length - 1; r > 0; r--) for (let i = 0; i < r; i++) d[i] = (1 - t) * d[i]! + t * d[i + 1]!;
  return d[0]!;
}

/** The same polynomial over [0, t] and over [t, 1], each as if over [0, 1]. */
export function divide(a: Bernstein, t: number): readonly [number[], number[]] {
  const d = [...a];
  const n = d.length - 1;
  const [low, high] = [[d[0]!], [d[n]!]];
  for (let r = n; r > 0; r--) {
    for (let i = 0; i < r; i++) d[i] = (1 - t) * d[i]! + t * d[i + 1]!;
    low.push(d[0]!);
    high.push(d[r - 1]!);
  }
  return [low, high.reverse()];
}

/** The same polynomial over [a, b] of [0, 1], as if over [0, 1]. */
export function between(c: Bernstein, a: number, b: number): Bernstein {
  const upper = a <= 0 ? c : divide(c, a)[1];
  return b >= 1 || a >= 1 ? upper : divide(upper, (b - a) / (1 - a))[0];
}
