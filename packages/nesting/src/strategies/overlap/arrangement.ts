/** Where every piece lies, overlapping or not: reference, variant and room; grid steps. */
export interface Arrangement {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly variant: Int32Array;
  readonly room: Int32Array;
}

/** An arrangement of `n` pieces, all at the origin. */
export const arrangementOf = (n: number): Arrangement => ({
  x: new Float64Array(n),
  y: new Float64Array(n),
  variant: new Int32Array(n),
  room: new Int32Array(n),
});

/** Copies one arrangement over another. */
export function copyInto(to: Arrangement, from: Arrangement): void {
  to.x.set(from.x);
  to.y.set(from.y);
  to.variant.set(from.variant);
  to.room.set(from.room);
}

/** A copy. */
export function copyOf(from: Arrangement): Arrangement {
  const to = arrangementOf(from.x.length);
  copyInto(to, from);
  return to;
}
