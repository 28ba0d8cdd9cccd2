import type { Diagnostic, Locus } from '@haunch/model';
import { bit, bits, gName } from './codes.js';
import {
  codeConflict,
  machineMoveNeedsLine,
  missingWord,
  noMotionMode,
  notWhole,
  outOfRange,
  unusedWord,
  whileCompensating,
} from './diagnostics.js';
import { AXES } from './frames.js';
import type { MachineState } from './machine-state.js';
import type { LineWords } from './scan-line.js';

/** The G code of a modal group on this line in tenths, or −1. */
export const gOf = (w: LineWords, group: number): number => (w.gGroups & (1 << group) ? w.g[group]! : -1);
/** The M code of a modal group on this line, or −1. */
export const mOf = (w: LineWords, group: number): number => (w.mGroups & (1 << group) ? w.m[group]! : -1);

/** G codes of group 0 that take the axis words for themselves. */
export const takesAxes = (g0: number): boolean => g0 === 100 || g0 === 280 || g0 === 300 || g0 === 920;

/** The motion that the line asks for in tenths, −1 for none: its own code, else the mode in force if it has axis words. */
export function motionOf(s: MachineState, w: LineWords): number {
  const g1 = gOf(w, 1);
  if (g1 >= 0) return g1 === 800 ? -1 : g1;
  return w.has & AXES && !takesAxes(gOf(w, 0)) ? s.motion : -1;
}

/** Words that mean something only beside the code they belong to. */
const PLACED = bits('DHIJKLPQR');
const USED = {
  arcXy: bits('IJR'),
  arcZx: bits('IKR'),
  arcYz: bits('JKR'),
  cycle: bits('RL'),
  dwelling: bits('P'),
  pecking: bits('Q'),
  backBoring: bits('IJK'),
  origin: bits('LP'),
  length: bits('H'),
  diameter: bits('D'),
};
/** Words that cannot be negative. */
const UNSIGNED_LETTERS = ['F', 'S', 'T', 'H', 'D'] as const;
const UNSIGNED = bits('FSTHD');

/** What is wrong with the line as a whole before any of it is carried out (N7, N8, N10, N12–N18); null if nothing. */
export function checkLine(s: MachineState, w: LineWords, at: Locus): Diagnostic | null {
  const g0 = gOf(w, 0);
  const g1 = gOf(w, 1);
  const axes = (w.has & AXES) !== 0;
  const motion = motionOf(s, w);
  if (takesAxes(g0) && g1 >= 0 && g1 !== 800)
    return codeConflict(at, `${gName(g0)} and ${gName(g1)} both want the axis words and stand`);
  if (g0 === 530 && motion !== 0 && motion !== 10) return machineMoveNeedsLine(at);
  if (axes && !takesAxes(g0) && (motion < 0 || motion === 800)) return noMotionMode(at);
  if (g1 >= 0 && g1 !== 800 && g1 !== 20 && g1 !== 30 && !axes)
    return missingWord(at, gName(g1), 'X, Y or Z');
  if (g0 === 920 && !axes) return missingWord(at, 'G92', 'X, Y or Z');
  if (s.compensating) {
    const code = forbiddenUnderCompensation(w);
    if (code) return whileCompensating(at, code);
  }
  return checkValues(s, w, at) ?? checkUnused(s, w, at, motion);
}

function forbiddenUnderCompensation(w: LineWords): string | null {
  const g0 = gOf(w, 0);
  if (takesAxes(g0) || g0 === 530 || g0 > 920) return gName(g0);
  const comp = gOf(w, 7);
  if (comp === 410 || comp === 420) return gName(comp);
  for (const group of [2, 6, 12]) if (gOf(w, group) >= 0) return gName(gOf(w, group));
  return null;
}

function checkValues(s: MachineState, w: LineWords, at: Locus): Diagnostic | null {
  const v = (letter: string): number | null =>
    w.has & bit(letter) ? w.value[letter.charCodeAt(0) - 65]! : null;
  const g0 = gOf(w, 0);
  for (const letter of w.has & UNSIGNED ? UNSIGNED_LETTERS : []) {
    const value = v(letter);
    if (value === null) continue;
    if (value < 0) return outOfRange(at, letter, value, 'it cannot be negative');
    if (letter !== 'F' && letter !== 'S' && Math.abs(value - Math.round(value)) > 0.0001)
      return notWhole(at, letter, value);
  }
  if (gOf(w, 8) === 430 && v('H') === null) return missingWord(at, 'G43', 'H');
  if (g0 === 40) {
    const p = v('P');
    if (p === null) return missingWord(at, 'G4', 'P');
    if (p < 0) return outOfRange(at, 'P', p, 'a dwell cannot be negative');
  }
  if (g0 === 100) {
    const l = v('L');
    const p = v('P');
    if (l === null || Math.abs(l - 2) > 0.0001) return missingWord(at, 'G10', 'L2');
    if (p === null) return missingWord(at, 'G10', 'P');
    if (Math.abs(p - Math.round(p)) > 0.0001) return notWhole(at, 'P', p);
    if (p < 0.5 || p > 9.5) return outOfRange(at, 'P', p, 'coordinate systems are 1 to 9');
  }
  const mode = gOf(w, 5);
  const inverse = mode >= 0 ? mode === 930 : s.inverseTime;
  const motion = motionOf(s, w);
  if (inverse && (motion === 10 || motion === 20 || motion === 30)) {
    const f = v('F');
    if (f === null) return missingWord(at, `${gName(motion)} under G93`, 'F');
    if (f === 0) return outOfRange(at, 'F', f, 'a move cannot take for ever');
  }
  return null;
}

/** Words that no code of the line makes use of are errors: they are how slips of the pen show. */
function checkUnused(s: MachineState, w: LineWords, at: Locus, motion: number): Diagnostic | null {
  if ((w.has & PLACED) === 0) return null;
  let used = 0;
  const g0 = gOf(w, 0);
  const plane = gOf(w, 2) >= 0 ? gOf(w, 2) / 10 : s.plane;
  if (motion === 20 || motion === 30)
    used |= plane === 17 ? USED.arcXy : plane === 18 ? USED.arcZx : USED.arcYz;
  if (motion >= 810) used |= USED.cycle;
  if (motion === 820 || motion >= 860) used |= USED.dwelling;
  if (motion === 830) used |= USED.pecking;
  if (motion === 870) used |= USED.backBoring;
  if (g0 === 40) used |= USED.dwelling;
  if (g0 === 100) used |= USED.origin;
  if (gOf(w, 8) === 430) used |= USED.length;
  if (gOf(w, 7) === 410 || gOf(w, 7) === 420) used |= USED.diameter;
  const unused = w.has & PLACED & ~used;
  if (!unused) return null;
  return unusedWord(at, String.fromCharCode(65 + (31 - Math.clz32(unused & -unused))));
}
