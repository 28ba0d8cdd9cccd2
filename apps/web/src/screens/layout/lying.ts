import type { JobText } from '../../job/job-document.js';
import { mmOf } from '../../job/written-length.js';
import type { WirePlacement, WirePlacements } from '../../work/lay-wire.js';
import type { ShownBoard, ShownItem } from '../../work/shown-wire.js';

/** Where an item is drawn: turned about its origin, counter-clockwise, then moved. Degrees, mm. */
export interface Drawn {
  readonly turn: number;
  readonly dx: number;
  readonly dy: number;
}

type Box = readonly [number, number, number, number];

const cosine = (degrees: number): number =>
  degrees % 180 === 90 || degrees % 180 === -90 ? 0 : Math.cos((degrees * Math.PI) / 180);
const turned = (x: number, y: number, degrees: number): readonly [number, number] => {
  const [c, s] = [cosine(degrees), cosine(degrees - 90)];
  return [c * x - s * y, s * x + c * y];
};

/** The box round a box after a turn about the origin. */
export function boxAfter([x0, y0, x1, y1]: Box, degrees: number): Box {
  const corners = [
    turned(x0, y0, degrees),
    turned(x1, y0, degrees),
    turned(x1, y1, degrees),
    turned(x0, y1, degrees),
  ];
  const xs = corners.map((c) => c[0]);
  const ys = corners.map((c) => c[1]);
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
}

/** How an item is drawn so that it lies as a placement says. */
export function drawnAt(item: Pick<ShownItem, 'box'>, { at, turnDegrees }: WirePlacement): Drawn {
  const box = boxAfter(item.box, turnDegrees);
  return { turn: turnDegrees, dx: at[0] - box[0], dy: at[1] - box[1] };
}

/** A place of an item, as it is drawn about its own origin, on the board. */
export function onBoard(
  x: number,
  y: number,
  { turn, dx, dy }: Drawn,
): { readonly x: number; readonly y: number } {
  const [a, b] = turned(x, y, turn);
  return { x: a + dx, y: b + dy };
}

const tenth = (v: number): number => Math.round(v * 10) / 10 + 0;

/** What adding leaves beyond this is rounding, mm. */
const clean = (v: number): number => Math.round(v * 1e7) / 1e7 + 0;

/** A placement moved by tenths of a millimetre: there and back again is where it lay, to the last digit. */
export const moved = (p: WirePlacement, dx: number, dy: number): WirePlacement => ({
  ...p,
  at: [clean(p.at[0] + tenth(dx)), clean(p.at[1] + tenth(dy))],
});

/**
 * A placement on another board, by tenths of a millimetre: the pointer holds it where it took hold of it on its own.
 * `held` and `at` are places of the pointer on the board that it left and on the one that it is over. mm
 */
export const laidOver = (
  p: WirePlacement,
  held: { readonly x: number; readonly y: number },
  at: { readonly board: string; readonly x: number; readonly y: number },
): WirePlacement => ({
  ...p,
  board: at.board,
  at: [tenth(at.x - (held.x - p.at[0])), tenth(at.y - (held.y - p.at[1]))],
});

/** A placement turned to the next turn that the item may take, about the middle of its box. */
export function turnedOn(item: Pick<ShownItem, 'box' | 'turns'>, p: WirePlacement): WirePlacement {
  const now = ((p.turnDegrees % 360) + 360) % 360;
  const turns = [...item.turns].sort((a, b) => a - b);
  const next = turns.find((t) => t > now + 1e-6) ?? turns[0];
  if (next === undefined || next === now) return p;
  const [a, b] = [boxAfter(item.box, now), boxAfter(item.box, next)];
  const [x, y] = [p.at[0] + (a[2] - a[0]) / 2, p.at[1] + (a[3] - a[1]) / 2];
  return { ...p, turnDegrees: next, at: [tenth(x - (b[2] - b[0]) / 2), tenth(y - (b[3] - b[1]) / 2)] };
}

/** What a person has laid, by the job file. mm */
export const laidByHand = (job: JobText): WirePlacements =>
  Object.fromEntries(
    Object.entries(job.lay?.placements ?? {}).map(([part, p]) => [
      part,
      { board: p.board, at: [mmOf(p.at[0]), mmOf(p.at[1])] as const, turnDegrees: p.turnDegrees ?? 0 },
    ]),
  );

/** Where every item of a layout lies: as it was made, but for what the job file says since. */
export function placementsNow(boards: readonly ShownBoard[], byHand: WirePlacements): WirePlacements {
  const items = boards.flatMap((b) => b.items);
  return Object.fromEntries(items.map((i) => [i.item, byHand[i.item] ?? i.placement]));
}

/** A job in which parts lie so. Lengths are written as plain millimetres, so that none is moved by rounding. */
export const withPlacements = (job: JobText, placements: WirePlacements): JobText => ({
  ...job,
  lay: {
    ...job.lay,
    placements: Object.fromEntries(
      Object.entries(placements).map(([part, { board, at, turnDegrees }]) => [
        part,
        { board, at: [at[0], at[1]] as [number, number], turnDegrees },
      ]),
    ),
  },
});

/** A job in which nothing is laid by hand, or one part less. */
export function withoutPlacements(job: JobText, part?: string): JobText {
  const { placements = {}, ...lay } = job.lay ?? {};
  const { [part ?? '']: _, ...rest } = placements;
  return part === undefined || Object.keys(rest).length === 0
    ? { ...job, lay }
    : { ...job, lay: { ...lay, placements: rest } };
}
