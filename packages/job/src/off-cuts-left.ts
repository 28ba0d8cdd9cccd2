import { defectsOnOffCut, inParent } from '@haunch/gauge';
import {
  type Box,
  flattenRing,
  type Point,
  polygonRing,
  type Ring,
  ringArea,
  ringBounds,
  snap,
} from '@haunch/geometry';
import { largestEmptyRectangle, missingOf } from '@haunch/nesting';
import { type WrittenBoard, writtenOffCut } from './board-for-job.js';
import { motionOf } from './boards-of-job.js';
import type { Job } from './job.js';
import type { JobBoard } from './job-schema.js';
import { joinBoxes } from './join-off-cuts.js';
import { trimKerfs } from './kept-free.js';
import type { LaidBoard, LaidJob } from './lay-job.js';
import { ladderOutlines } from './make-ladder.js';

/** What a job leaves of a board, a rectangle for the most part: where its lower left corner lies on it, and its size. mm. */
export interface OffCutLeft {
  /** Its name, of the board's. */
  readonly id: string;
  readonly board: string;
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
  /** Its corners from that corner, where it is no rectangle; width and height are those of its box then. */
  readonly outline?: readonly Point[];
}

/** What is worth keeping, mm: narrower or shorter pieces are waste. Common practice, no source. */
const NARROWEST = 100;
const SHORTEST = 300;
/** So many of a board at the most. */
const MOST = 3;
/** Outlines count by boxes of their slices of this height: a curved part does not take the corner that it leaves free. mm */
const SLICE = 20;

/** Boxes that cover a ring, slice by slice from bottom to top. */
function slices(ring: Ring): Box[] {
  const points = flattenRing(ring, { tolerance: 0.05 });
  const { minY, maxY } = ringBounds(ring);
  const n = Math.max(1, Math.ceil((maxY - minY) / SLICE));
  return Array.from({ length: n }, (_, k): Box => {
    const [y0, y1] = [minY + ((maxY - minY) * k) / n, minY + ((maxY - minY) * (k + 1)) / n];
    let [minX, maxX] = [Infinity, -Infinity];
    points.forEach((a, i) => {
      const b = points[(i + 1) % points.length]!;
      if (Math.max(a.y, b.y) < y0 || Math.min(a.y, b.y) > y1) return;
      // Where the side crosses the slice's edges, and its ends within it.
      for (const y of [Math.max(y0, Math.min(y1, a.y)), Math.max(y0, Math.min(y1, b.y))]) {
        const x = a.y === b.y ? [a.x, b.x] : [a.x + ((y - a.y) / (b.y - a.y)) * (b.x - a.x)];
        minX = Math.min(minX, ...x);
        maxX = Math.max(maxX, ...x);
      }
    });
    return { minX, minY: y0, maxX, maxY: y1 };
  });
}

const grown = (b: Box, by: number): Box => ({
  minX: b.minX - by,
  minY: b.minY - by,
  maxX: b.maxX + by,
  maxY: b.maxY + by,
});

/**
 * The rectangles that a job leaves of one of its boards, the largest first: clear of all parts and of the ladder that was cut
 * from it by the cutter's diameter, of keep-outs, of trimming cuts and of what a board that is no rectangle lacks of its box; at least 300 × 100 mm, three at the most. They do not overlap. Two that touch are one board where the job wants them joined and the rectangle that runs through
 * both is larger than the lesser of them.
 */
export function offCutsLeft(job: Job, laid: LaidJob, { board, items }: LaidBoard): OffCutLeft[] {
  const felt = job.ladders.some((l) => l.kind === 'felt' && l.board === board.id);
  const cut = [
    ...items.map((i) => i.part.outline.ring),
    ...(felt ? ladderOutlines(job, laid, board) : []),
  ].flatMap((r) => slices(r).map((b) => grown(b, job.router.diameter)));
  const taken = [
    ...cut,
    ...board.keepOuts.map(ringBounds),
    ...trimKerfs(board, job),
    ...missingOf(board.outline),
  ];
  const left: OffCutLeft[] = [];
  for (let k = 0; k < MOST; k++) {
    const room = largestEmptyRectangle(ringBounds(board.outline), taken);
    if (!room) break;
    // Inward to whole tenths: a size that somebody can measure.
    const [x, y] = [Math.ceil(room.minX * 10) / 10, Math.ceil(room.minY * 10) / 10];
    const [width, height] = [Math.floor(room.maxX * 10) / 10 - x, Math.floor(room.maxY * 10) / 10 - y];
    if (Math.min(width, height) < NARROWEST || Math.max(width, height) < SHORTEST) break;
    left.push({
      id: `${board.id}-rest${k === 0 ? '' : `-${k + 1}`}`,
      board: board.id,
      x: snap(x),
      y: snap(y),
      width: snap(width),
      height: snap(height),
    });
    taken.push(room);
  }
  return job.settings.lay.offCuts === 'joined' ? joined(left) : left;
}

const boxOf = ({ x, y, width, height }: OffCutLeft): Box => ({
  minX: x,
  minY: y,
  maxX: x + width,
  maxY: y + height,
});

/** Its area, mm². */
export const areaLeft = ({ width, height, outline }: OffCutLeft): number =>
  outline ? Math.abs(ringArea(polygonRing(outline))) : width * height;

/** The first of those that touch joined to one, where that is worth more; the others keep their names. */
function joined(left: readonly OffCutLeft[]): OffCutLeft[] {
  for (const [i, a] of left.entries())
    for (const b of left.slice(i + 1)) {
      const corners = joinBoxes(boxOf(a), boxOf(b), NARROWEST);
      if (!corners) continue;
      const box = ringBounds(polygonRing(corners));
      const one: OffCutLeft = {
        id: a.id,
        board: a.board,
        x: snap(box.minX),
        y: snap(box.minY),
        width: snap(box.maxX - box.minX),
        height: snap(box.maxY - box.minY),
        outline: corners.map((p) => ({ x: snap(p.x - box.minX), y: snap(p.y - box.minY) })),
      };
      return left.flatMap((o) => (o === a ? [one] : o === b ? [] : [o]));
    }
  return [...left];
}

/** The flaws of a board as they lie in an off-cut of it, which is clear of keep-outs but not of these. */
const flawsIn = (of: JobBoard, left: OffCutLeft): JobBoard['defects'] =>
  defectsOnOffCut(of.defects, { turnedOver: false, turn: 0, x: left.x, y: left.y }, left).map(
    ({ box: [x0, y0, x1, y1], face }) => ({ box: [snap(x0), snap(y0), snap(x1), snap(y1)], face }),
  );

/**
 * An off-cut as the next job has it under `boards`: with the readings of the sheet that it comes from, so that it inherits its map, and
 * with the flaws of one face that lie in it.
 */
export function leftForJob(of: JobBoard, left: OffCutLeft): WrittenBoard {
  const { offCutOf } = of;
  // An off-cut of an off-cut lay in the sheet that both come from.
  const at = offCutOf ? inParent(motionOf(offCutOf), left) : left;
  return writtenOffCut(
    of,
    { ...left, defects: flawsIn(of, left) },
    {
      width: offCutOf?.width ?? of.width,
      height: offCutOf?.height ?? of.height,
      readings: offCutOf?.readings ?? of.readings,
      at: [at.x, at.y],
      turnDegrees: offCutOf?.turnDegrees ?? 0,
      turnedOver: offCutOf?.turnedOver ?? false,
    },
  );
}
