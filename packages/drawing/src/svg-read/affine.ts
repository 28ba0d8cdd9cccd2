import type { Point } from '@haunch/geometry';

/** An affine map as SVG writes it: x′ = a x + c y + e, y′ = b x + d y + f (SVG 2, 8.4). */
export interface Affine {
  readonly a: number;
  readonly b: number;
  readonly c: number;
  readonly d: number;
  readonly e: number;
  readonly f: number;
}

export const IDENTITY: Affine = { a: 1, b: 0, c: 0, d: 1, e: 0, f: 0 };

/** The map that does `inner` first and `outer` after it. */
export const compose = (outer: Affine, inner: Affine): Affine => ({
  a: outer.a * inner.a + outer.c * inner.b,
  b: outer.b * inner.a + outer.d * inner.b,
  c: outer.a * inner.c + outer.c * inner.d,
  d: outer.b * inner.c + outer.d * inner.d,
  e: outer.a * inner.e + outer.c * inner.f + outer.e,
  f: outer.b * inner.e + outer.d * inner.f + outer.f,
});

export const translation = (e: number, f: number): Affine => ({ ...IDENTITY, e, f });
export const scaling = (a: number, d: number): Affine => ({ ...IDENTITY, a, d });

export const mapPoint = (m: Affine, p: Point): Point => ({
  x: m.a * p.x + m.c * p.y + m.e,
  y: m.b * p.x + m.d * p.y + m.f,
});

/** Where a map takes a direction: without the translation. */
export const mapVector = (m: Affine, p: Point): Point => ({
  x: m.a * p.x + m.c * p.y,
  y: m.b * p.x + m.d * p.y,
});

/** By how much lengths grow on average: the root of the area's growth. */
export const growth = (m: Affine): number => Math.sqrt(Math.abs(m.a * m.d - m.b * m.c));

export const isFiniteMap = (m: Affine): boolean => [m.a, m.b, m.c, m.d, m.e, m.f].every(Number.isFinite);
