import { lineLocus } from './cursor.js';
import { incrementalFromUnknown } from './diagnostics.js';
import { AXES, AXIS_LETTERS, sayLost, settleFrame } from './frames.js';
import { ALL, type MachineState } from './machine-state.js';
import { addOnce } from './report.js';
import type { LineWords } from './scan-line.js';

/** Where the line's words lead, mm in the base frame, and which axes are then known. Refilled for every line. */
export interface Target {
  readonly place: Float64Array;
  known: number;
}

export const newTarget = (): Target => ({ place: new Float64Array(3), known: 0 });

/** Reads the axis words as a place; an axis without a word stays where it is. */
export function findTarget(s: MachineState, w: LineWords, t: Target): void {
  const axes = (w.has & AXES) >>> 23;
  if ((s.framed & axes) !== axes) settleFrame(s, axes);
  if (s.lost & axes && !s.incremental) sayLost(s, axes);
  for (let i = 0; i < 3; i++)
    t.place[i] = !(axes & (1 << i))
      ? s.at[i]!
      : s.incremental
        ? s.at[i]! + w.value[AXIS_LETTERS[i]!]! * s.unit
        : w.value[AXIS_LETTERS[i]!]! * s.unit + s.shift[i]!;
  if (!s.incremental) t.known = s.known | axes;
  else {
    t.known = s.known;
    if (s.known !== ALL && axes & ~s.known)
      addOnce(s.report, incrementalFromUnknown(lineLocus(s.report.file, s.line)));
  }
}
