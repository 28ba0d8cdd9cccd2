import type { BookBoard, BookDefect } from '@haunch/gauge';
import type { Point } from '@haunch/geometry';
import { type JobBoard, JobBoardSchema, type JobOffCut } from './job-schema.js';

/** A board as it is written in a job file, before it is read. */
export type WrittenBoard = Readonly<Record<string, unknown>>;

const tidy = (value: number, places = 4): number => +value.toFixed(places);
const mm = (value: number): string => `${tidy(value)} mm`;

const written = ({ readings }: BookBoard): unknown[] =>
  readings.map(({ thickness, at }) =>
    at === undefined ? mm(thickness) : { at: [mm(at.x), mm(at.y)], thickness: mm(thickness) },
  );

const writtenDefects = (defects: readonly BookDefect[]): WrittenBoard =>
  defects.length === 0
    ? {}
    : { defects: defects.map(({ box, face }) => ({ box: box.map((v) => mm(v)), face })) };

/** How closely all readings were taken, where it is noted of every one: the widest. mm */
function repeatabilityOf({ readings }: BookBoard): number | undefined {
  const noted = readings.flatMap((r) => (r.repeatability === undefined ? [] : [r.repeatability]));
  return noted.length > 0 && noted.length === readings.length ? Math.max(...noted) : undefined;
}

/** A board or off-cut of the day book as a job file has it: an off-cut with where it was in its sheet, and that one's readings. */
export function writtenForJob(board: BookBoard): WrittenBoard {
  const { id, stock, width, height, grain, offCut, defects } = board;
  const repeatability = repeatabilityOf(board);
  const rest = {
    grain,
    ...writtenDefects(defects),
    ...(repeatability === undefined ? {} : { repeatability: mm(repeatability) }),
  };
  const size = { width: mm(width), height: mm(height) };
  if (!offCut) return { id, stock, ...size, readings: written(board), ...rest };
  const { sheetWidth, sheetHeight, motion } = offCut;
  return {
    id,
    stock,
    ...size,
    ...rest,
    offCutOf: {
      width: mm(sheetWidth),
      height: mm(sheetHeight),
      readings: written(board),
      at: [mm(motion.x), mm(motion.y)],
      turnDegrees: tidy((motion.turn * 180) / Math.PI, 6),
      turnedOver: motion.turnedOver,
    },
  };
}

/** What a job leaves of one of its boards, as the next job has it. mm, degrees. */
export function writtenOffCut(
  of: JobBoard,
  {
    id,
    width,
    height,
    outline,
    defects = [],
  }: Readonly<Record<'width' | 'height', number>> & {
    readonly id: string;
    readonly outline?: readonly Point[];
    readonly defects?: JobBoard['defects'];
  },
  { at, readings, ...sheet }: JobOffCut,
): WrittenBoard {
  const { material, nominal, standard, repeatability, sheet: kind } = of;
  const told = { material, nominal, standard, sheet: kind };
  return {
    id,
    stock: of.stock ?? of.id,
    ...Object.fromEntries(Object.entries(told).filter(([, v]) => v !== undefined)),
    ...(repeatability === undefined ? {} : { repeatability: mm(repeatability) }),
    width: mm(width),
    height: mm(height),
    ...(outline ? { outline: outline.map(({ x, y }) => [mm(x), mm(y)]) } : {}),
    grain: of.grain,
    ...writtenDefects(defects),
    offCutOf: {
      width: mm(sheet.width),
      height: mm(sheet.height),
      readings: readings.map((r) =>
        typeof r === 'number' ? mm(r) : { at: r.at.map((v) => mm(v)), thickness: mm(r.thickness) },
      ),
      at: at.map((v) => mm(v)),
      turnDegrees: sheet.turnDegrees,
      turnedOver: sheet.turnedOver,
    },
  };
}

/** A board or off-cut of the day book as a board of a job, read; undefined where its name cannot be a job's. mm. */
export function boardForJob(board: BookBoard): JobBoard | undefined {
  const read = JobBoardSchema.safeParse(writtenForJob(board));
  return read.success ? read.data : undefined;
}
