import { bit, gName } from './codes.js';
import { lineLocus } from './cursor.js';
import { badCycle, missingWord, notWhole, outOfRange, refusedCode } from './diagnostics.js';
import { AXES, AXIS_LETTERS, settleFrame } from './frames.js';
import type { MachineState } from './machine-state.js';
import { pushDwell, pushStraight } from './push-move.js';
import { add } from './report.js';
import type { LineWords } from './scan-line.js';
import { findTarget, newTarget } from './target.js';

const [L, P, Q, R] = [bit('L'), bit('P'), bit('Q'), bit('R')];
/** How far a peck's rapid stays above the hole's bottom, mm: 0.010 in in the report's interpreter (from memory). */
const PECK_CLEARANCE = 0.254;
/** More pecks or repeats than this on one line are a slip of the pen, not a program. */
const MOST = 100_000;
const target = newTarget();

/** The axis a cycle drills along, by plane. */
const ACROSS = { 17: 2, 18: 1, 19: 0 } as const;

interface Cycle {
  readonly code: number;
  /** Repeats. */
  readonly l: number;
  /** Retract height, hole bottom, mm in the base frame, and the height between holes. */
  readonly r: number;
  readonly bottom: number;
  readonly clear: number;
  readonly p: number;
  readonly q: number;
}

/** A canned cycle G81–G89 expanded into moves (N16). G84, G87 and G88 are refused. */
export function cannedCycle(s: MachineState, w: LineWords, code: number): void {
  const here = lineLocus(s.report.file, s.line);
  const across = ACROSS[s.plane];
  if (code === 840 || code === 870 || code === 880) {
    add(
      s.report,
      refusedCode(
        here,
        gName(code),
        code === 840 ? 'it taps threads' : 'it needs an operator or a special bar',
        'Write the moves with G0 and G1.',
      ),
    );
    findTarget(s, w, target);
    const place = target.place;
    place[across] = s.at[across]!;
    pushStraight(
      s,
      'rapid',
      place[0]!,
      place[1]!,
      place[2]!,
      s.known | (((w.has & AXES) >>> 23) & ~(1 << across)),
    );
    return;
  }
  const cycle = readCycle(s, w, code, across);
  if (!cycle) return;
  // The target of the first hole; under G91 every repeat goes on by the same words.
  findTarget(s, w, target);
  const step = [0, 1, 2].map((i) => (s.incremental && i !== across ? target.place[i]! - s.at[i]! : 0));
  const hole = Array.from(target.place);
  const holeKnown = target.known;
  const at = [s.at[0]!, s.at[1]!, s.at[2]!];
  const go = (kind: 'rapid' | 'linear', height: number, moved: boolean) => {
    const to = moved ? [...hole] : at;
    to[across] = height;
    if (s.known & (1 << across) && to[0] === s.at[0] && to[1] === s.at[1] && to[2] === s.at[2]) return;
    pushStraight(s, kind, to[0]!, to[1]!, to[2]!, (moved ? holeKnown : s.known) | (1 << across));
  };
  if (s.at[across]! < cycle.r || !(s.known & (1 << across))) go('rapid', cycle.r, false);
  for (let i = 0; i < cycle.l; i++) {
    if (i > 0) for (let k = 0; k < 3; k++) hole[k]! += step[k]!;
    go('rapid', s.at[across]!, true);
    go('rapid', cycle.r, true);
    drill(s, cycle, (kind, height) => go(kind, height, true));
  }
}

/** One hole, from the retract height down and back up. */
function drill(s: MachineState, c: Cycle, go: (kind: 'rapid' | 'linear', height: number) => void): void {
  if (c.code === 830) {
    for (let depth = c.r - c.q; depth > c.bottom; depth -= c.q) {
      go('linear', depth);
      go('rapid', c.r);
      go('rapid', Math.min(c.r, depth + PECK_CLEARANCE));
    }
  }
  go('linear', c.bottom);
  if (c.code === 820 || c.code === 860 || c.code === 890) pushDwell(s, c.p);
  if (c.code === 850 || c.code === 890) {
    go('linear', c.r);
    go('rapid', c.clear);
  } else if (c.code === 860) {
    // The spindle stands while the bar is drawn out, then runs on.
    const { turning } = s;
    s.turning = 0;
    go('rapid', c.clear);
    s.turning = turning;
  } else go('rapid', c.clear);
}

/** The cycle's words with what sticks from the line before; null when something is missing, which has been said. */
function readCycle(s: MachineState, w: LineWords, code: number, across: number): Cycle | null {
  const here = lineLocus(s.report.file, s.line);
  const name = gName(code);
  const stop = (d: ReturnType<typeof badCycle>): null => {
    add(s.report, d);
    return null;
  };
  const sticky = s.cycle?.code === code ? s.cycle : null;
  if (s.inverseTime) return stop(badCycle(here, name, 'G93 is in force'));
  if (s.compensating) return stop(badCycle(here, name, 'cutter compensation is on'));
  const l = w.has & L ? w.value[11]! : 1;
  if (Math.abs(l - Math.round(l)) > 0.0001) return stop(notWhole(here, 'L', l));
  if (l < 0.5) return stop(outOfRange(here, 'L', l, 'it must be 1 or more'));
  if (l > MOST) return stop(outOfRange(here, 'L', l, `more than ${MOST} repeats`));
  const letter = 1 << AXIS_LETTERS[across as 0]!;
  const depthWord = w.has & letter ? w.value[AXIS_LETTERS[across as 0]!]! * s.unit : sticky?.depth;
  if (depthWord === undefined) return stop(missingWord(here, name, 'XYZ'[across]!));
  const rWord = w.has & R ? w.value[17]! * s.unit : sticky?.r;
  if (rWord === undefined) return stop(missingWord(here, name, 'R'));
  const p = w.has & P ? w.value[15]! : (sticky?.p ?? null);
  const q = w.has & Q ? w.value[16]! * s.unit : (sticky?.q ?? null);
  if (p !== null && p < 0) return stop(outOfRange(here, 'P', p, 'a dwell cannot be negative'));
  if ((code === 820 || code === 860 || code === 890) && p === null) return stop(missingWord(here, name, 'P'));
  if (code === 830 && q === null) return stop(missingWord(here, name, 'Q'));
  if (q !== null && q <= 0) return stop(outOfRange(here, 'Q', q / s.unit, 'a peck must be more than 0'));

  settleFrame(s, 1 << across);
  const known = (s.known & (1 << across)) !== 0;
  if (s.incremental && !known)
    return stop(badCycle(here, name, 'it is incremental and the cutter is not known to be anywhere'));
  const now = s.at[across]!;
  const r = s.incremental ? now + rWord : rWord + s.shift[across]!;
  const bottom = s.incremental ? r + depthWord : depthWord + s.shift[across]!;
  if (r < bottom) return stop(badCycle(here, name, 'R lies below the bottom of the hole'));
  if (code === 830 && (r - bottom) / q! > MOST)
    return stop(outOfRange(here, 'Q', q! / s.unit, 'too small a peck'));
  s.cycle = { code, r: rWord, depth: depthWord, p, q };
  const clear = s.returnToR || !known || now < r ? r : now;
  return { code, l: Math.round(l), r, bottom, clear, p: p ?? 0, q: q ?? 0 };
}
