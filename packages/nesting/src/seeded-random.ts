/**
 * A generator of numbers in [0, 1), each a multiple of 2⁻³², that depends on nothing but the seed: the same
 * on every machine. The 128-bit small fast counting generator "sfc32" (C. Doty-Humphrey, PractRand), written
 * anew; the seed is spread over its state by sixteen rounds.
 * @throws RangeError when the seed is not a whole number from 0 to 2³² − 1.
 */
export function seededRandom(seed: number): () => number {
  if (!Number.isInteger(seed) || seed < 0 || seed > 0xffffffff)
    throw new RangeError(`seededRandom: seed ${seed} is not a whole number from 0 to 4294967295`);
  let a = 0x9e3779b9;
  let b = 0x243f6a88;
  let c = seed >>> 0;
  let counter = 1;
  const next = (): number => {
    const t = (a + b + counter) | 0;
    counter = (counter + 1) | 0;
    a = b ^ (b >>> 9);
    b = (c + (c << 3)) | 0;
    c = (((c << 21) | (c >>> 11)) + t) | 0;
    return (t >>> 0) / 4294967296;
  };
  for (let i = 0; i < 16; i++) next();
  return next;
}
