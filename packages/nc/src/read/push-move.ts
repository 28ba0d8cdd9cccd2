import type { Point } from '@haunch/geometry';
import type { Place } from '@haunch/model';
import { lineLocus } from './cursor.js';
import { lengthOfAnother, noFeed, noUnit } from './diagnostics.js';
import { ALL, type MachineState } from './machine-state.js';
import type { NcArc, NcKnown } from './nc-reading.js';
import { add, addOnce } from './report.js';

/** What is known of a place, by the bits x 1, y 2, z 4. */
const KNOWN: readonly NcKnown[] = Array.from({ length: 8 }, (_, m) =>
  Object.freeze({ x: (m & 1) !== 0, y: (m & 2) !== 0, z: (m & 4) !== 0 }),
);

/** The start of a motion: unknown coordinates are given as those of its end. */
const fromPlace = (s: MachineState, to: Place): Place =>
  s.known === ALL
    ? s.place
    : {
        x: s.known & 1 ? s.place.x : to.x,
        y: s.known & 2 ? s.place.y : to.y,
        z: s.known & 4 ? s.place.z : to.z,
      };

function arrive(s: MachineState, to: Place, known: number): void {
  s.at[0] = to.x;
  s.at[1] = to.y;
  s.at[2] = to.z;
  s.place = to;
  s.known = known;
}

/** Settles at the first motion what was left open until then. */
function firstMotion(s: MachineState): void {
  s.moved = true;
  if (!s.unitSeen) add(s.report, noUnit(lineLocus(s.report.file, s.line)));
}

/** Says that another tool's length is in force, at the first motion under it. */
function doubtLength(s: MachineState): void {
  s.lengthDoubted = false;
  add(s.report, lengthOfAnother(lineLocus(s.report.file, s.line), s.lengthOf, s.tool));
}

/** The feed along a path of this length, mm/min. */
function feedFor(s: MachineState, length: number): number | null {
  if (s.feed === null) addOnce(s.report, noFeed(lineLocus(s.report.file, s.line)));
  return s.inverseTime && s.feed !== null ? length * s.feed : s.feed;
}

/** Appends a straight move to (x, y, z), mm in the base frame; `known` says which of them are certain. */
export function pushStraight(
  s: MachineState,
  kind: 'rapid' | 'linear',
  x: number,
  y: number,
  z: number,
  known: number,
): void {
  if (!s.moved) firstMotion(s);
  if (s.lengthDoubted) doubtLength(s);
  const to: Place = { x, y, z };
  const from = fromPlace(s, to);
  const feed =
    kind === 'rapid'
      ? null
      : s.inverseTime
        ? feedFor(s, Math.hypot(x - from.x, y - from.y, z - from.z))
        : feedFor(s, 0);
  s.moves.push({
    kind,
    line: s.line,
    from,
    to,
    fromKnown: KNOWN[s.known]!,
    toKnown: KNOWN[known]!,
    feed,
    spindle: s.turning * s.speed + 0,
    tool: s.tool,
  });
  arrive(s, to, known);
}

/** Appends an arc that ends at `to`; `across` is its rise across its plane, mm. */
export function pushArc(
  s: MachineState,
  plane: NcArc['plane'],
  centre: Point,
  sweep: number,
  radius: number,
  across: number,
  to: Place,
  known: number,
): void {
  if (!s.moved) firstMotion(s);
  if (s.lengthDoubted) doubtLength(s);
  s.moves.push({
    kind: 'arc',
    line: s.line,
    from: fromPlace(s, to),
    to,
    fromKnown: KNOWN[s.known]!,
    toKnown: KNOWN[known]!,
    feed: feedFor(s, s.inverseTime ? Math.hypot(radius * sweep, across) : 0),
    spindle: s.turning * s.speed + 0,
    tool: s.tool,
    plane,
    centre,
    turn: sweep > 0 ? 'ccw' : 'cw',
    sweep,
  });
  arrive(s, to, known);
}

/** Appends a wait of so many seconds. */
export function pushDwell(s: MachineState, seconds: number): void {
  s.moves.push({
    kind: 'dwell',
    line: s.line,
    seconds: seconds * s.dwellUnit,
    spindle: s.turning * s.speed + 0,
    tool: s.tool,
  });
}
