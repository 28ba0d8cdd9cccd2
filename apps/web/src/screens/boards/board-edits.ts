import type { BoardText, JobText } from '../../job/job-document.js';
import { mmOf, writtenMm } from '../../job/written-length.js';
import type { Box, Place } from './sheet.js';

/** A reading of a board as the page shows it, with its place in the job file's list. mm */
export interface ReadingShown {
  readonly index: number;
  readonly thickness: number;
  readonly at: Place | null;
}

type Reading = NonNullable<BoardText['readings']>[number];

/** The readings that a board's map rests on: its own. */
export const readingsOf = ({ readings = [] }: BoardText): ReadingShown[] =>
  readings.map((r, index) =>
    typeof r === 'object'
      ? { index, thickness: mmOf(r.thickness), at: { x: mmOf(r.at[0]), y: mmOf(r.at[1]) } }
      : { index, thickness: mmOf(r), at: null },
  );

const placed = (thickness: string, at: Place | null): Reading =>
  at === null ? thickness : { at: [writtenMm(at.x), writtenMm(at.y)], thickness };

/** With one reading more. */
export const withReading = (b: BoardText, thickness: string, at: Place | null): BoardText => ({
  ...b,
  readings: [...(b.readings ?? []), placed(thickness, at)],
});

/** With another thickness at a reading. */
export const withThickness = (b: BoardText, index: number, thickness: string): BoardText => ({
  ...b,
  readings: (b.readings ?? []).map((r, i) =>
    i === index ? (typeof r === 'object' ? { ...r, thickness } : thickness) : r,
  ),
});

/** Without one reading. */
export const withoutReading = (b: BoardText, index: number): BoardText => ({
  ...b,
  readings: (b.readings ?? []).filter((_, i) => i !== index),
});

/** A rectangle of the job file, whichever of its corners is written first. mm */
function boxOf(written: readonly (string | number)[]): Box {
  const [x0, y0, x1, y1] = written.map(mmOf) as unknown as Box;
  return [Math.min(x0, x1), Math.min(y0, y1), Math.max(x0, x1), Math.max(y0, y1)];
}

/** The keep-outs of a board, mm. */
export const keepOutsOf = ({ keepOuts = [] }: BoardText): Box[] => keepOuts.map(boxOf);

const writtenBox = ([x0, y0, x1, y1]: Box): [string, string, string, string] => [
  writtenMm(x0),
  writtenMm(y0),
  writtenMm(x1),
  writtenMm(y1),
];

/** With one keep-out more. */
export const withKeepOut = (b: BoardText, box: Box): BoardText => ({
  ...b,
  keepOuts: [...(b.keepOuts ?? []), writtenBox(box)],
});

/** Without one keep-out. */
export const withoutKeepOut = (b: BoardText, index: number): BoardText => ({
  ...b,
  keepOuts: (b.keepOuts ?? []).filter((_, i) => i !== index),
});

/** A flaw of a board as the page shows it, mm. */
export interface DefectShown {
  readonly box: Box;
  readonly face: 'up' | 'down' | 'both';
}

/** The flaws of a board, mm. */
export const defectsOf = ({ defects = [] }: BoardText): DefectShown[] =>
  defects.map(({ box, face }) => ({ box: boxOf(box), face }));

/** With one flaw more. */
export const withDefect = (b: BoardText, box: Box, face: DefectShown['face']): BoardText => ({
  ...b,
  defects: [...(b.defects ?? []), { box: writtenBox(box), face }],
});

/** Without one flaw. */
export const withoutDefect = (b: BoardText, index: number): BoardText => ({
  ...b,
  defects: (b.defects ?? []).filter((_, i) => i !== index),
});

/** The corners of a board that is no rectangle, arcs by a place on them; null for a rectangle. mm */
export const cornersOf = ({ outline }: BoardText): Place[] | null =>
  outline === undefined
    ? null
    : outline.flatMap((corner) =>
        (Array.isArray(corner) ? [corner] : [corner.at, corner.through]).map(([x, y]) => ({
          x: mmOf(x!),
          y: mmOf(y!),
        })),
      );

const writtenPlace = ({ x, y }: Place): [string, string] => [writtenMm(x), writtenMm(y)];

/** With one screw more; its head is taken as 10 mm wide until something else is said. */
export const withScrew = (b: BoardText, at: Place): BoardText => ({
  ...b,
  screws: [...(b.screws ?? []), { at: writtenPlace(at), head: writtenMm(10) }],
});

/** With another width of a screw's head. */
export const withScrewHead = (b: BoardText, index: number, head: string): BoardText => ({
  ...b,
  screws: (b.screws ?? []).map((s, i) => (i === index ? { ...s, head } : s)),
});

/** Without one screw. */
export const withoutScrew = (b: BoardText, index: number): BoardText => ({
  ...b,
  screws: (b.screws ?? []).filter((_, i) => i !== index),
});

/** How a board is turned over, mm: where its pins or stops are; at their usual places where nothing is said. */
export interface Turning {
  readonly on: 'pins' | 'stops';
  readonly axis: 'x' | 'y';
  readonly places?: readonly Place[];
}

/** How a board is turned over as its text says; null where it is not. */
export function turningOf({ turnOver }: BoardText): (Turning & { readonly places: readonly Place[] }) | null {
  if (!turnOver) return null;
  const on = turnOver.stops === undefined ? 'pins' : 'stops';
  const places = (turnOver[on] ?? []).map(([x, y]) => ({ x: mmOf(x), y: mmOf(y) }));
  return { on, axis: turnOver.axis, places };
}

/** Pins stand so far from the sheet's ends where nothing else is said, mm; common practice, no source. */
const FROM_END = 20;

/**
 * Where pins or stops usually are. Pins on the middle line about which the sheet is turned keep their places; two stops along an edge that
 * is turned on to itself, and one at an edge that changes places.
 */
function usualPlaces(on: Turning['on'], axis: 'x' | 'y', w: number, h: number): Place[] {
  const along = axis === 'y' ? h : w;
  const place = (u: number, v: number): Place => (axis === 'y' ? { x: v, y: u } : { x: u, y: v });
  const across = axis === 'y' ? w : h;
  return on === 'pins'
    ? [place(FROM_END, across / 2), place(along - FROM_END, across / 2)]
    : [place(0, across * 0.2), place(0, across * 0.8), place(along / 2, 0)];
}

/** Turned over so, or not at all. */
export function withTurning(b: BoardText, turning: Turning | null): BoardText {
  const { turnOver, ...rest } = b;
  if (turning === null) return rest;
  const { on, axis } = turning;
  const places = turning.places ?? usualPlaces(on, axis, mmOf(b.width), mmOf(b.height));
  // To the last digit: a pin off the middle line by its rounding would have another place after the turn.
  const written = places.map(({ x, y }) => [`${+x.toFixed(4)} mm`, `${+y.toFixed(4)} mm`]);
  const diameter =
    turnOver && turningOf(b)?.on === on ? turnOver.diameter : writtenMm(on === 'pins' ? 8 : 20);
  return { ...rest, turnOver: { axis, [on]: written, diameter } as NonNullable<BoardText['turnOver']> };
}

/** A name that no board has yet: `off-cut-a`, `off-cut-b` … */
function freeName(job: JobText, stem: string): string {
  const taken = new Set(job.boards.map((b) => b.id));
  for (let i = 0; ; i++) {
    const name = `${stem}-${String.fromCharCode(97 + (i % 26))}${i < 26 ? '' : Math.floor(i / 26)}`;
    if (!taken.has(name)) return name;
  }
}

/** With an off-cut of a board, which lay there in it: its readings speak for the off-cut too. */
export function withOffCut(job: JobText, id: string, [x0, y0, x1, y1]: Box): JobText {
  const sheet = job.boards.find((b) => b.id === id)!;
  const readings = (sheet.readings ?? []) as [Reading, ...Reading[]];
  const offCut: BoardText = {
    id: freeName(job, 'off-cut'),
    ...(sheet.stock === undefined ? { stock: sheet.id } : { stock: sheet.stock }),
    ...(sheet.material === undefined ? {} : { material: sheet.material }),
    width: writtenMm(x1 - x0),
    height: writtenMm(y1 - y0),
    ...(sheet.grain === undefined ? {} : { grain: sheet.grain }),
    offCutOf: {
      width: sheet.width,
      height: sheet.height,
      readings,
      at: [writtenMm(x0), writtenMm(y0)],
    },
  };
  return { ...job, boards: [...job.boards, offCut] };
}

/** With a board more, as the shop's day book knows it. */
export const withBookBoard = (job: JobText, board: BoardText): JobText => ({
  ...job,
  boards: [...job.boards, board],
});

/** With a whole sheet more, like another one but not measured. */
export function withSheet(job: JobText, like: BoardText): JobText {
  const { readings: _r, keepOuts: _k, screws: _s, offCutOf: _o, outline: _l, defects: _d, ...rest } = like;
  const sheet: BoardText = {
    ...rest,
    id: freeName(job, 'board'),
    stock: like.stock ?? like.id,
    readings: [],
  };
  return { ...job, boards: [...job.boards, sheet] };
}

/** Without a board. */
export const withoutBoard = (job: JobText, id: string): JobText => ({
  ...job,
  boards: job.boards.filter((b) => b.id !== id) as JobText['boards'],
});
