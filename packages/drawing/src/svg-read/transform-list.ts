import { cosSin } from '@haunch/geometry';
import { type Affine, compose, IDENTITY, isFiniteMap, scaling, translation } from './affine.js';
import { readNumbers } from './numbers.js';

const DEGREE = Math.PI / 180;

const turning = (degrees: number): Affine => {
  const [c, s] = cosSin(degrees * DEGREE);
  return { a: c, b: s, c: -s, d: c, e: 0, f: 0 };
};

const about = (x: number, y: number, m: Affine): Affine =>
  compose(translation(x, y), compose(m, translation(-x, -y)));

/** The transform functions by name, each with the numbers of arguments that it takes (SVG 1.1, 7.6). */
const FUNCTIONS: ReadonlyMap<
  string,
  { readonly takes: readonly number[]; readonly make: (n: number[]) => Affine }
> = new Map([
  ['matrix', { takes: [6], make: ([a, b, c, d, e, f]) => ({ a: a!, b: b!, c: c!, d: d!, e: e!, f: f! }) }],
  ['translate', { takes: [1, 2], make: ([x, y]) => translation(x!, y ?? 0) }],
  ['scale', { takes: [1, 2], make: ([x, y]) => scaling(x!, y ?? x!) }],
  ['rotate', { takes: [1, 3], make: ([q, x, y]) => about(x ?? 0, y ?? 0, turning(q!)) }],
  ['skewX', { takes: [1], make: ([q]) => ({ ...IDENTITY, c: Math.tan(q! * DEGREE) }) }],
  ['skewY', { takes: [1], make: ([q]) => ({ ...IDENTITY, b: Math.tan(q! * DEGREE) }) }],
]);

/** Plain numbers with an optional unit that changes nothing: px of a length, deg of an angle. */
const unitless = (argument: string): string => argument.replace(/(?<=[\d.])(?:px|deg)\b/g, '');

/** The map that a transform list describes, the first function outermost; null where it cannot be read. */
export function readTransformList(text: string): Affine | null {
  const list = text.trim();
  if (list === '' || list === 'none') return IDENTITY;
  let map = IDENTITY;
  let at = 0;
  const call = /[\s,]*([A-Za-z]+)\s*\(([^()]*)\)[\s,]*/y;
  while (at < list.length) {
    call.lastIndex = at;
    const m = call.exec(list);
    if (m === null) return null;
    const known = FUNCTIONS.get(m[1]!);
    const numbers = readNumbers(unitless(m[2]!));
    if (known === undefined || numbers === null || !known.takes.includes(numbers.length)) return null;
    map = compose(map, known.make(numbers));
    at = call.lastIndex;
  }
  return isFiniteMap(map) ? map : null;
}
