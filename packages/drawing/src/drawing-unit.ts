import type { Point } from '@haunch/geometry';
import type { Diagnostic } from '@haunch/model';
import { noUnit, oddUnit } from './diagnostics.js';
import type { DrawingUnit, Entity, UnitName } from './drawing.js';
import { commentUnit, HEADER_UNITS, isShopUnit } from './dxf/insunits.js';

const FACTORS: Readonly<Record<UnitName, number>> = { mm: 1, cm: 10, m: 1000, inch: 25.4 };
/** The order in which units are tried: an earlier one wins where two explain a drawing equally well. */
const TRIED: readonly UnitName[] = ['mm', 'inch', 'm', 'cm'];

/** Thicknesses in which sheets are sold, mm; inch sizes by their fraction. Common practice, no source. */
const USUAL_THICKNESSES: readonly number[] = [
  3, 3.6, 4, 5, 6, 6.5, 8, 9, 10, 12, 15, 16, 18, 19, 21, 22, 24, 25, 27, 30, 3.175, 5.2, 5.55625, 6.35,
  9.525, 11.90625, 12.7, 15.08125, 15.875, 18.25625, 19.05, 25.4,
];
/** A drawn width this near to a usual thickness counts as one, mm. */
const NEAR = 0.02;

/** What can be told of a drawing's size before its unit is known, in drawing units. */
export interface Clues {
  readonly extent: number;
  /** The lengths of short straight edges and how often they occur, the commonest first. */
  readonly shortEdges: readonly { readonly length: number; readonly count: number }[];
}

/** Lengths from 10⁻⁹ on are told apart; smaller ones are none. */
const SMALLEST_POWER = -12;

/** Powers of ten, from that of `SMALLEST_POWER` on, as `lengthKey` needs them. */
const POWERS = Float64Array.from({ length: 60 }, (_, i) => Number(`1e${i + SMALLEST_POWER}`));

/** A length to four digits as a whole number, 0 where it is none: texts would cost more than the reading. */
function lengthKey(length: number): number {
  if (!(length >= 1e-9)) return 0;
  let i = Math.floor(Math.log10(length)) - 3 - SMALLEST_POWER;
  let digits = Math.round(length / POWERS[i]!);
  if (digits === 10_000) {
    digits = 1000;
    i++;
  }
  return i * 10_000 + digits;
}

const lengthOfKey = (key: number): number =>
  Number(`${key % 10_000}e${Math.floor(key / 10_000) + SMALLEST_POWER}`);

/** The box of what is seen and the lengths of its straight edges. Fields, not captured variables: those are slow. */
class Sizes {
  readonly lengths = new Map<number, number>();
  minX = Infinity;
  minY = Infinity;
  maxX = -Infinity;
  maxY = -Infinity;

  see(x: number, y: number): void {
    if (x < this.minX) this.minX = x;
    if (x > this.maxX) this.maxX = x;
    if (y < this.minY) this.minY = y;
    if (y > this.maxY) this.maxY = y;
  }

  edge(a: Point, b: Point): void {
    this.see(a.x, a.y);
    this.see(b.x, b.y);
    const dx = b.x - a.x;
    const dy = b.y - a.y;
    const key = lengthKey(Math.sqrt(dx * dx + dy * dy));
    if (key !== 0) this.lengths.set(key, (this.lengths.get(key) ?? 0) + 1);
  }

  entity(e: Entity): void {
    switch (e.kind) {
      case 'line':
        this.edge(e.from, e.to);
        return;
      case 'circle':
      case 'arc':
        this.see(e.centre.x - e.radius, e.centre.y - e.radius);
        this.see(e.centre.x + e.radius, e.centre.y + e.radius);
        return;
      case 'ellipse': {
        // The box of P = major·cos + minor·sin.
        const x = Math.hypot(e.major.x, e.major.y * e.ratio);
        const y = Math.hypot(e.major.y, e.major.x * e.ratio);
        this.see(e.centre.x - x, e.centre.y - y);
        this.see(e.centre.x + x, e.centre.y + y);
        return;
      }
      case 'spline':
        if (e.controls.length === 2) this.edge(e.controls[0]!, e.controls[1]!);
        else for (const p of e.controls) this.see(p.x, p.y);
        return;
      case 'polyline': {
        const n = e.vertices.length;
        for (let i = 0; i < (e.closed ? n : n - 1); i++) {
          const v = e.vertices[i]!;
          const w = e.vertices[i + 1 < n ? i + 1 : 0]!;
          if (v.bulge === 0) this.edge(v, w);
          else {
            this.see(v.x, v.y);
            this.see(w.x, w.y);
          }
        }
      }
    }
  }
}

/** What a drawing's entities tell of its size, in drawing units. */
export function cluesOf(entities: readonly Entity[]): Clues {
  const seen = new Sizes();
  for (const e of entities) seen.entity(e);
  const extent = seen.maxX >= seen.minX ? Math.max(seen.maxX - seen.minX, seen.maxY - seen.minY) : 0;
  const shortEdges = [...seen.lengths]
    .map(([key, count]) => ({ length: lengthOfKey(key), count }))
    .filter(({ length }) => length * 4 < extent)
    .sort((a, b) => b.count - a.count || a.length - b.length)
    .slice(0, 5);
  return { extent, shortEdges };
}

/** The commonest short edge that is a usual thickness in this unit, if any. */
const thicknessIn = (clues: Clues, unit: UnitName) => usualEdge(clues, FACTORS[unit]);

/** The commonest short edge that is a usual thickness where a unit is `factor` mm, if any. */
export const usualEdge = (clues: Clues, factor: number) =>
  clues.shortEdges.find(
    ({ length, count }) => count >= 2 && USUAL_THICKNESSES.some((t) => Math.abs(length * factor - t) <= NEAR),
  );

/** Whether a drawing of this many mm across is of a usual size. */
export const sensible = (extent: number): boolean => extent >= 30 && extent <= 6000;
export const figure = (v: number): string => String(Number(v.toPrecision(4)));

interface Guess {
  readonly name: UnitName;
  readonly reason: string | null;
  /** Whether widths that sheets have speak for it, and not only the size of the whole. */
  readonly byEdges: boolean;
}

/** The likeliest unit with its reason; millimetres without one where nothing speaks for another. */
function guessUnit(clues: Clues): Guess {
  for (const name of TRIED) {
    const edge = thicknessIn(clues, name);
    if (edge === undefined || !sensible(clues.extent * FACTORS[name])) continue;
    const meant = Number((edge.length * FACTORS[name]).toFixed(2));
    return {
      name,
      reason: `${edge.count} edges are ${figure(edge.length)} long, which is ${meant} mm drawn in ${name}`,
      byEdges: true,
    };
  }
  if (clues.extent > 0 && !sensible(clues.extent)) {
    const fitting = TRIED.filter(
      (u) => clues.extent * FACTORS[u] >= 200 && clues.extent * FACTORS[u] <= 3500,
    );
    if (fitting.length === 1)
      return {
        name: fitting[0]!,
        reason: `it is ${figure(clues.extent)} across, which is a usual size only in ${fitting[0]}`,
        byEdges: false,
      };
  }
  return { name: 'mm', reason: null, byEdges: false };
}

/**
 * Settles the unit of a drawing: the one given, else the header's, else a guess from its size and the widths in
 * it, else millimetres. Only what is told is doubted aloud; a header's unit is never overruled.
 */
export function unitOfDrawing(
  entities: readonly Entity[],
  stated: {
    readonly insunits: number | null;
    readonly metric?: boolean | null;
    readonly comments: readonly string[];
  },
  given: UnitName | undefined,
  file: string,
): { readonly unit: DrawingUnit; readonly diagnostics: readonly Diagnostic[] } {
  if (given !== undefined)
    return {
      unit: {
        name: given,
        factor: FACTORS[given],
        basis: 'given',
        reason: `The unit was given as ${given}.`,
      },
      diagnostics: [],
    };
  const clues = cluesOf(entities);
  const guess = guessUnit(clues);
  const header = HEADER_UNITS.get(stated.insunits ?? 0) ?? commentUnit(stated.comments) ?? undefined;
  const unusable = header !== undefined && !isShopUnit(header) ? header.name : null;
  const doubt = (reason: string): readonly Diagnostic[] => {
    if (entities.length === 0) return [];
    return [
      unusable === null
        ? noUnit(file, reason)
        : oddUnit(file, `nothing is cut from a sheet in ${unusable}. ${reason}`),
    ];
  };
  if (header !== undefined && unusable === null) {
    const across = clues.extent * header.factor;
    const doubts =
      clues.extent > 0 && !sensible(across)
        ? `the drawing would be ${figure(across)} mm across${guess.reason !== null && guess.name !== header.name ? `; ${guess.name} is likelier, as ${guess.reason}` : ''}.`
        : // A stated unit that makes a usual size is only doubted for widths that sheets have.
          guess.byEdges && guess.name !== header.name && usualEdge(clues, header.factor) === undefined
          ? `${guess.name} is likelier than ${header.name}, as ${guess.reason}.`
          : null;
    return {
      unit: { ...header, basis: 'header', reason: `The file states ${header.name}.` },
      diagnostics: doubts === null ? [] : [oddUnit(file, doubts)],
    };
  }
  // English is what many programs write unasked, so it only decides where millimetres would make no usual size.
  if (
    guess.reason === null &&
    stated.metric === false &&
    !sensible(clues.extent) &&
    sensible(clues.extent * 25.4)
  ) {
    const reason = `It was taken as inch: $MEASUREMENT says so, and it would be ${figure(clues.extent * 25.4)} mm across.`;
    return {
      unit: { name: 'inch', factor: 25.4, basis: 'guessed', reason },
      diagnostics: doubt(reason),
    };
  }
  const reason =
    guess.reason === null
      ? `Nothing speaks for another unit, so millimetres were assumed${stated.metric === true ? ', as $MEASUREMENT is metric' : ''}.`
      : `It was taken as ${guess.name}: ${guess.reason}.`;
  return {
    unit: {
      name: guess.name,
      factor: FACTORS[guess.name],
      basis: guess.reason === null ? 'assumed' : 'guessed',
      reason,
    },
    diagnostics: doubt(reason),
  };
}
