import { turnLengths } from '@haunch/model';

/** The unit in which paper states lengths. */
export type PaperUnit = 'mm' | 'inch';

const INCH = 25.4;

/** The figure alone, rounded: `digits` of a millimetre, two more of an inch, which is about as fine. */
export const figure = (mm: number, unit: PaperUnit, digits = 1): string => {
  const value = unit === 'mm' ? mm : mm / INCH;
  const places = unit === 'mm' ? digits : digits + 2;
  const rounded = Math.round(value * 10 ** places) / 10 ** places + 0;
  return String(Number(rounded.toFixed(places)));
};

/** A length with its unit: `17.7 mm`, `0.697 in`. */
export const length = (mm: number, unit: PaperUnit, digits = 1): string =>
  `${figure(mm, unit, digits)} ${unit === 'mm' ? 'mm' : 'in'}`;

/** Two lengths as a size: `600 × 280 mm`. */
export const size = (lengths: readonly number[], unit: PaperUnit, digits = 1): string =>
  `${lengths.map((l) => figure(l, unit, digits)).join(' × ')} ${unit === 'mm' ? 'mm' : 'in'}`;

/** A place: `X 20, Y 1200 mm`. */
export const place = ({ x, y }: { readonly x: number; readonly y: number }, unit: PaperUnit): string =>
  `X ${figure(x, unit)}, Y ${figure(y, unit)} ${unit === 'mm' ? 'mm' : 'in'}`;

/** A sentence written elsewhere in millimetres, with its lengths and places in the unit of the paper. */
export const inUnit = (sentence: string, unit: PaperUnit): string =>
  unit === 'mm'
    ? sentence
    : turnLengths(sentence, {
        figure: (mm) => figure(mm, unit, 2),
        unit: 'in',
        place: (x, y) => `(${figure(x, unit)}, ${figure(y, unit)})`,
      });
