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

/** The keep-outs of a board, mm. */
export const keepOutsOf = ({ keepOuts = [] }: BoardText): Box[] =>
  keepOuts.map((k) => k.map(mmOf) as unknown as Box);

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

/** With a whole sheet more, like another one but not measured. */
export function withSheet(job: JobText, like: BoardText): JobText {
  const { readings: _, keepOuts: __, screws: ___, offCutOf: ____, ...rest } = like;
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
