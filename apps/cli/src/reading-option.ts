import { readLength } from '@haunch/model';
import { InvalidArgumentError } from 'commander';
import { lengthOption, positiveLengthOption } from './length-option.js';

/** A thickness reading given on the command line. mm */
export interface PlacedReading {
  readonly thickness: number;
  readonly at?: { readonly x: number; readonly y: number };
}

/** `17.72mm` or `17.72mm@1220,610`. @throws InvalidArgumentError */
export function readingOption(text: string): PlacedReading {
  const [size, place, ...more] = text.split('@');
  const thickness = readLength(size ?? '');
  if (typeof thickness !== 'number') throw new InvalidArgumentError(thickness.problem);
  if (thickness <= 0) throw new InvalidArgumentError(`'${text}' must be greater than zero`);
  if (place === undefined) return { thickness };
  const [x, y, ...rest] = place.split(',').map((n) => (n.trim() === '' ? Number.NaN : Number(n)));
  if (!Number.isFinite(x) || !Number.isFinite(y) || rest.length + more.length > 0)
    throw new InvalidArgumentError(`'${text}': the place is x,y in mm, such as 17.72mm@1220,610`);
  return { thickness, at: { x: x!, y: y! } };
}

/** Collects readings of an option that may be repeated. */
export const readingsOption = (
  text: string,
  before: readonly PlacedReading[] = [],
): readonly PlacedReading[] => [...before, readingOption(text)];

const pair = (text: string, one: (text: string) => number, example: string): [number, number] => {
  const parts = text.split(',');
  if (parts.length !== 2) throw new InvalidArgumentError(`'${text}' is not two lengths, such as ${example}`);
  return [one(parts[0]!), one(parts[1]!)];
};

/** `800mm,300mm`: width along X, height along Y. */
export const sizeOption = (text: string): readonly [number, number] =>
  pair(text, positiveLengthOption, '800mm,300mm');

/** `1600mm,900mm`: a place, X and Y. */
export const placeOption = (text: string): readonly [number, number] =>
  pair(text, lengthOption, '1600mm,900mm');
