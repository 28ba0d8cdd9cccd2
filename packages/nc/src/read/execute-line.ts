import { arcMove } from './arc-move.js';
import { cannedCycle } from './canned-cycle.js';
import { checkLine, gOf, mOf, motionOf } from './check-line.js';
import { bits, gName } from './codes.js';
import { lineLocus } from './cursor.js';
import { feedBeforeUnits, machineCoordinates, refusedCode, toolNotSelected } from './diagnostics.js';
import { AXES, AXIS_LETTERS, changeOffsets, fromMachine, nameHere, setOrigin, useSystem } from './frames.js';
import type { MachineState } from './machine-state.js';
import { pushDwell, pushStraight } from './push-move.js';
import { add, addOnce } from './report.js';
import type { LineWords } from './scan-line.js';
import { findTarget, newTarget } from './target.js';

const target = newTarget();
const [F, S, T] = [bits('F'), bits('S'), bits('T')];
const BEYOND_STRAIGHT = ~bits('XYZF');

/**
 * Carries out a line in the report's order of execution (N9, Table 8), whatever the order of its words. A line that
 * is wrong as a whole is not carried out at all. Returns how the program ends, if it ends here.
 */
export function executeLine(s: MachineState, w: LineWords): 'M2' | 'M30' | null {
  // Most lines of a program are plain straight moves in the mode in force; they need none of the checks.
  const g1 = w.gGroups === 2 ? w.g[1]! : w.gGroups === 0 ? s.motion : -1;
  if (
    (g1 === 0 || g1 === 10) &&
    w.mGroups === 0 &&
    (w.has & BEYOND_STRAIGHT) === 0 &&
    w.has & AXES &&
    !s.inverseTime &&
    !(w.has & F && w.value[5]! < 0)
  ) {
    if (w.has & F) s.feed = w.value[5]! * s.unit;
    s.motion = g1;
    straight(s, w, g1);
    return null;
  }
  const here = lineLocus(s.report.file, s.line);
  const wrong = checkLine(s, w, here);
  if (wrong) {
    add(s.report, wrong);
    return null;
  }
  const motion = motionOf(s, w);
  setTechnology(s, w);
  if (gOf(w, 0) === 40) pushDwell(s, w.value[15]!);
  setModes(s, w);
  applyOffsets(s, w);
  if (gOf(w, 1) === 800) {
    s.motion = 800;
    s.cycle = null;
  }
  if (motion >= 0) move(s, w, motion);
  return stop(s, w);
}

/** Steps 2–9: feed mode, F, S, T, M6, spindle (coolant and overrides change no path). */
function setTechnology(s: MachineState, w: LineWords): void {
  const mode = gOf(w, 5);
  if (mode >= 0 && s.inverseTime !== (mode === 930)) {
    s.inverseTime = mode === 930;
    s.feed = null;
  }
  if (w.has & F) s.feed = s.inverseTime ? w.value[5]! : w.value[5]! * s.unit;
  else if (s.inverseTime) s.feed = null;
  if (w.has & S) s.speed = w.value[18]!;
  if (w.has & T) s.selected = Math.round(w.value[19]!);
  if (mOf(w, 6) === 6) {
    if (s.selected === null) add(s.report, toolNotSelected(lineLocus(s.report.file, s.line)));
    s.tool = s.selected;
    s.turning = 0;
    if (s.lengthOf !== 0) s.lengthDoubted = s.lengthOf !== s.tool;
    s.moves.push({ kind: 'tool-change', line: s.line, tool: s.tool });
  }
  const spindle = mOf(w, 7);
  if (spindle >= 0) s.turning = spindle === 3 ? 1 : spindle === 4 ? -1 : 0;
}

/** Steps 11–18: plane, units, compensation, length offset, coordinate system, distance and return modes. */
function setModes(s: MachineState, w: LineWords): void {
  if (w.gGroups === 0) return;
  const here = () => lineLocus(s.report.file, s.line);
  const plane = gOf(w, 2);
  if (plane >= 0) {
    if (plane / 10 !== s.plane) s.cycle = null;
    s.plane = (plane / 10) as 17 | 18 | 19;
  }
  const units = gOf(w, 6);
  if (units >= 0) {
    const unit = units === 200 ? 25.4 : 1;
    if (w.has & F && !s.inverseTime && (unit !== s.unit || !s.unitSeen))
      add(s.report, feedBeforeUnits(here()));
    s.unit = unit;
    s.unitSeen ||= !s.moved;
  }
  const compensation = gOf(w, 7);
  if (compensation === 400) s.compensating = false;
  else if (compensation > 0) {
    s.compensating = true;
    add(
      s.report,
      refusedCode(
        here(),
        gName(compensation),
        'where the cutter runs would hang on a diameter set at the control',
        'Write the path of the cutter itself, with G40.',
      ),
    );
  }
  const length = gOf(w, 8);
  if (length >= 0) setToolLength(s, length === 490 ? 0 : Math.round(w.value[7]!));
  const system = gOf(w, 12);
  if (system >= 0) {
    const number = system <= 590 ? (system - 530) / 10 : system - 584;
    useSystem(s, number);
    if (!s.moved) s.system = { number, line: s.line };
  }
  const distance = gOf(w, 3);
  if (distance >= 0) s.incremental = distance === 910;
  const back = gOf(w, 10);
  if (back >= 0) s.returnToR = back === 990;
}

/** G43 and G49 (N15): Z stays the tip's height, so a new length moves the tip's known Z, or makes it unknown. */
function setToolLength(s: MachineState, slot: number): void {
  const length = slot === 0 ? 0 : (s.toolLengths.get(slot) ?? null);
  if (s.toolLength !== null && length !== null) {
    s.at[2] = s.at[2]! + s.toolLength - length;
    s.place = { x: s.at[0]!, y: s.at[1]!, z: s.at[2]! };
  } else s.known &= ~4;
  s.toolLength = length;
  s.lengthOf = slot;
  s.lengthDoubted = slot !== 0 && s.tool !== null && slot !== s.tool;
}

/** Step 19: G10, G28, G30, G92 and its kin. */
function applyOffsets(s: MachineState, w: LineWords): void {
  const g0 = gOf(w, 0);
  if (g0 === 100) setOrigin(s, Math.round(w.value[15]!), w.has, w.value);
  else if (g0 === 920) nameHere(s, w.has, w.value);
  else if (g0 === 921) changeOffsets(s, 'cancel and forget');
  else if (g0 === 922) changeOffsets(s, 'cancel');
  else if (g0 === 923) changeOffsets(s, 'restore');
  else if (g0 === 280 || g0 === 300) {
    addOnce(s.report, machineCoordinates(lineLocus(s.report.file, s.line), gName(g0)));
    if (w.has & AXES) straight(s, w, 0);
    pushStraight(s, 'rapid', s.at[0]!, s.at[1]!, s.at[2]!, 0);
  }
}

/** Step 20: the motion itself. */
function move(s: MachineState, w: LineWords, motion: number): void {
  if (motion !== s.motion) s.cycle = null;
  if (motion === 382) {
    add(
      s.report,
      refusedCode(
        lineLocus(s.report.file, s.line),
        'G38.2',
        'where a probing move ends is not in the text',
        'Probe apart from the program.',
      ),
    );
    s.motion = 382;
    s.known = 0;
    return;
  }
  s.motion = motion;
  if (motion === 20 || motion === 30) arcMove(s, w, motion === 30);
  else if (motion >= 810) cannedCycle(s, w, motion);
  else if (gOf(w, 0) === 530) machineMove(s, w, motion);
  else straight(s, w, motion);
}

function straight(s: MachineState, w: LineWords, motion: number): void {
  findTarget(s, w, target);
  const { place, known } = target;
  pushStraight(s, motion === 0 ? 'rapid' : 'linear', place[0]!, place[1]!, place[2]!, known);
}

/** G53: the words are machine coordinates, absolute whatever the distance mode. */
function machineMove(s: MachineState, w: LineWords, motion: number): void {
  const to = Array.from(s.at);
  let { known } = s;
  for (let i = 0; i < 3; i++) {
    const letter = AXIS_LETTERS[i]!;
    if (!(w.has & (1 << letter))) continue;
    const place = fromMachine(s, i, w.value[letter]! * s.unit);
    if (place === null) {
      known &= ~(1 << i);
      addOnce(s.report, machineCoordinates(lineLocus(s.report.file, s.line), 'G53'));
    } else {
      to[i] = place;
      known |= 1 << i;
    }
  }
  pushStraight(s, motion === 0 ? 'rapid' : 'linear', to[0]!, to[1]!, to[2]!, known);
}

/** Step 21: stops and the end. */
function stop(s: MachineState, w: LineWords): 'M2' | 'M30' | null {
  const code = mOf(w, 4);
  if (code < 0) return null;
  if (code === 2) return 'M2';
  if (code === 30) return 'M30';
  s.moves.push({ kind: 'stop', line: s.line, code: code === 0 ? 'M0' : code === 1 ? 'M1' : 'M60' });
  return null;
}
