import type { Diagnostic } from '@haunch/model';
import { noSvgUnit, oddUnit } from '../diagnostics.js';
import type { DrawingUnit, UnitName } from '../drawing.js';
import { type Clues, figure, sensible, usualEdge } from '../drawing-unit.js';
import { INCH, inMillimetres, type Length } from './length.js';

/** What the root of an SVG says of its size. */
export interface RootSize {
  readonly width: Length | null;
  readonly height: Length | null;
  /** Size of the view box in user units; null where there is none. */
  readonly box: { readonly width: number; readonly height: number } | null;
  /** Whether a page of another shape than the view box stretches it (`preserveAspectRatio` none). */
  readonly stretched: boolean;
  /** Whether such a page is filled by cutting off (`slice`) instead of by leaving room (`meet`). */
  readonly slice: boolean;
}

/** The unit that an SVG's user units are, and by how much more y is stretched than x. */
export interface UserUnit {
  readonly unit: DrawingUnit;
  readonly stretch: number;
  readonly diagnostics: readonly Diagnostic[];
}

interface Candidate {
  readonly name: string;
  readonly factor: number;
  readonly words: string;
}

const MM: Candidate = { name: 'mm', factor: 1, words: 'millimetres' };
/** Units of an inch's fraction that drawing programs have written SVG in; 1/96 is that of CSS and SVG 2. */
const inches = (n: number): Candidate => ({
  name: `1/${n} inch`,
  factor: INCH / n,
  words: `${n} units to the inch`,
});
const [CSS, POINT, OLD] = [inches(96), inches(72), inches(90)];

const GIVEN: Readonly<Record<UnitName, number>> = { mm: 1, cm: 10, m: 1000, inch: INCH };

/** Pages by name, mm: ISO 216 A series, and ANSI/ASME Y14.1 sizes A and B. */
const PAGES: readonly (readonly [string, number, number])[] = [
  ['A0', 841, 1189],
  ['A1', 594, 841],
  ['A2', 420, 594],
  ['A3', 297, 420],
  ['A4', 210, 297],
  ['A5', 148, 210],
  ['8.5 × 11 inches', 215.9, 279.4],
  ['11 × 17 inches', 279.4, 431.8],
];
/** Programs round page sizes to whole or hundredth units: this share of a page's side. */
const PAGE_SHARE = 0.0015;

function pageIn(size: { readonly width: number; readonly height: number } | null, factor: number) {
  if (size === null) return undefined;
  const sides = [size.width * factor, size.height * factor].sort((a, b) => a - b) as [number, number];
  const near = (side: number, page: number) => Math.abs(side - page) <= PAGE_SHARE * page;
  return PAGES.find(([, short, long]) => near(sides[0], short) && near(sides[1], long));
}

/**
 * The size of a user unit: as given, else from a physical width or height, else a guess from the page's size and
 * the widths in the drawing, else 1/96 inch where the file states a size in pixels (SVG 2, 8.1; CSS Values 3,
 * 6.2) and 1 mm where it states none. What is guessed or assumed is said.
 */
export function userUnitOf(
  size: RootSize,
  clues: Clues,
  given: { readonly unit?: UnitName | undefined; readonly userUnit?: number | undefined },
  file: string,
): UserUnit {
  const { factor, stretch } = physical(size);
  const settled = (unit: DrawingUnit, diagnostics: readonly Diagnostic[] = [], y = 1): UserUnit => ({
    unit,
    stretch: y,
    diagnostics,
  });
  if (given.userUnit !== undefined) {
    const name = `${figure(given.userUnit)} mm`;
    const reason = `A user unit was given as ${name}.`;
    return settled({ name, factor: given.userUnit, basis: 'given', reason }, [], stretch);
  }
  if (given.unit !== undefined) {
    const reason = `The unit was given as ${given.unit}.`;
    return settled({ name: given.unit, factor: GIVEN[given.unit], basis: 'given', reason }, [], stretch);
  }
  if (factor !== null) {
    const stated = [size.width, size.height].filter((l) => l !== null && inMillimetres(l) !== null);
    const words = stated.map((l) => `${l!.value} ${l!.unit}`).join(' × ');
    const reason =
      size.box === null
        ? `The file states its size as ${words} without a viewBox, so a user unit is 1/96 inch.`
        : `The file states its size as ${words}, for ${figure(size.box.width)} × ${figure(size.box.height)} user units.`;
    const across = clues.extent * factor;
    const doubts =
      clues.extent > 0 && !sensible(across)
        ? [oddUnit(file, `the drawing would be ${figure(across)} mm across.`)]
        : [];
    return settled({ name: nameOfFactor(factor), factor, basis: 'header', reason }, doubts, stretch);
  }
  const pixels = size.width !== null || size.height !== null;
  const guess = guessUnit(size, clues, pixels);
  const fallback = pixels ? CSS : MM;
  const reason =
    guess === null
      ? pixels
        ? 'It gives its size in pixels, and nothing speaks for another unit, so 1/96 inch was assumed, as the standard has it.'
        : 'Nothing speaks for another unit, so millimetres were assumed.'
      : `It was taken to be in ${guess.unit.words}: ${guess.why}.`;
  const { name, factor: f } = guess?.unit ?? fallback;
  return settled(
    { name, factor: f, basis: guess === null ? 'assumed' : 'guessed', reason },
    clues.extent > 0 ? [noSvgUnit(file, reason)] : [],
    stretch,
  );
}

const nameOfFactor = (factor: number): string =>
  [MM, CSS, POINT, OLD, { name: 'inch', factor: INCH }, { name: 'cm', factor: 10 }].find(
    (c) => Math.abs(c.factor - factor) <= 1e-4 * c.factor,
  )?.name ?? `${figure(factor)} mm`;

/** Millimetres in a user unit along x, by the stated physical size, and how much longer one along y is. */
function physical(size: RootSize): { readonly factor: number | null; readonly stretch: number } {
  const [w, h] = [size.width, size.height].map((l) => (l === null ? null : inMillimetres(l)));
  const { box } = size;
  if (box === null) return { factor: w != null || h != null ? CSS.factor : null, stretch: 1 };
  const pixelsOf = (l: Length | null): number | null =>
    l === null ? null : (inMillimetres(l) ?? l.value * CSS.factor);
  // The shape of the page counts whatever its unit is.
  const [pw, ph] = [pixelsOf(size.width), pixelsOf(size.height)];
  const stretch = size.stretched && pw !== null && ph !== null ? ph / box.height / (pw / box.width) : 1;
  const [sx, sy] = [w == null ? null : w / box.width, h == null ? null : h / box.height];
  if (size.stretched && sx !== null) return { factor: sx, stretch };
  const scales = [sx, sy].filter((s) => s !== null);
  if (scales.length === 0) return { factor: null, stretch };
  return { factor: size.slice ? Math.max(...scales) : Math.min(...scales), stretch };
}

function guessUnit(
  size: RootSize,
  clues: Clues,
  pixels: boolean,
): { readonly unit: Candidate; readonly why: string } | null {
  const tried = pixels ? [CSS, MM, POINT, OLD] : [MM, CSS, POINT, OLD];
  const page =
    size.box ?? (size.width && size.height && { width: size.width.value, height: size.height.value });
  for (const unit of tried) {
    const found = pageIn(page ?? null, unit.factor);
    if (found !== undefined)
      return {
        unit,
        why: `its page of ${figure(page!.width)} × ${figure(page!.height)} units is then ${found[0]}`,
      };
  }
  const byEdges = tried
    .map((unit, order) => ({ unit, order, edge: usualEdge(clues, unit.factor) }))
    .filter((c) => c.edge !== undefined && sensible(clues.extent * c.unit.factor))
    .sort((a, b) => b.edge!.count - a.edge!.count || a.order - b.order)[0];
  if (byEdges !== undefined) {
    const { unit, edge } = byEdges;
    return {
      unit,
      why: `${edge!.count} edges are ${figure(edge!.length)} units long, which is then ${Number((edge!.length * unit.factor).toFixed(2))} mm`,
    };
  }
  if (clues.extent === 0 || sensible(clues.extent * tried[0]!.factor)) return null;
  const usual = tried.filter((u) => clues.extent * u.factor >= 200 && clues.extent * u.factor <= 3500);
  return usual.length === 1
    ? { unit: usual[0]!, why: `it is ${figure(clues.extent)} units across, which is a usual size only so` }
    : null;
}
