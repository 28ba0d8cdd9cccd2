import type { Place } from '@haunch/model';
import { lineLocus } from './cursor.js';
import { unknownOrigin } from './diagnostics.js';
import type { MachineState } from './machine-state.js';
import { add } from './report.js';

/** X, Y, Z: the letters' places in the alphabet, and their bits in a word mask. */
export const AXIS_LETTERS = [23, 24, 25] as const;
export const AXES = 0b111 << 23;

/** Settles the base frame of axes that move for the first time: the coordinate system in force is theirs. */
export function settleFrame(s: MachineState, axes: number): void {
  const f = s.frames;
  for (let i = 0; i < 3; i++) {
    const b = 1 << i;
    if (!(axes & b) || s.framed & b) continue;
    s.framed |= b;
    f.base[i] = f.origin[f.active]![i]!;
    f.baseKnown = (f.baseKnown & ~b) | (f.originKnown[f.active]! & b);
    f.baseSystem[i] = f.active;
    f.baseVersion[i] = f.version[f.active]![i]!;
  }
}

/** Recomputes how program words lie to the base frame, after anything that moves origins. */
export function shiftAnew(s: MachineState): void {
  const f = s.frames;
  s.lost = f.lostOffset;
  for (let i = 0; i < 3; i++) {
    const b = 1 << i;
    let system = 0;
    if (s.framed & b && !(f.active === f.baseSystem[i] && f.version[f.active]![i] === f.baseVersion[i])) {
      if (f.baseKnown & f.originKnown[f.active]! & b) system = f.origin[f.active]![i]! - f.base[i]!;
      else s.lost |= b;
    }
    s.shift[i] = system + f.offset[i]!;
  }
}

/** Says that words count from an unknown place, at their first use. */
export function sayLost(s: MachineState, axes: number): void {
  for (let i = 0; i < 3; i++)
    if (s.lost & axes & (1 << i)) add(s.report, unknownOrigin(lineLocus(s.report.file, s.line), 'XYZ'[i]!));
  s.lost &= ~axes;
}

/** Takes coordinate system k (1–9) into use. */
export function useSystem(s: MachineState, k: number): void {
  if (s.frames.active === k) return;
  s.frames.active = k;
  s.parameters[5220] = k;
  shiftAnew(s);
}

/** G10 L2: sets the origin of system k in machine coordinates, for the axes that have a word. */
export function setOrigin(s: MachineState, k: number, axes: number, value: Float64Array): void {
  const f = s.frames;
  s.zeros.push({ line: s.line, code: 'G10 L2', system: k });
  for (let i = 0; i < 3; i++) {
    if (!(axes & (1 << AXIS_LETTERS[i]!))) continue;
    const v = value[AXIS_LETTERS[i]!]!;
    f.origin[k]![i] = v * s.unit;
    f.originKnown[k]! |= 1 << i;
    f.version[k]![i]!++;
    s.parameters[5221 + 20 * (k - 1) + i] = v;
  }
  if (k === f.active) shiftAnew(s);
}

/** G92 (N13): the place where the cutter stands gets the coordinates of the words. */
export function nameHere(s: MachineState, axes: number, value: Float64Array): void {
  const f = s.frames;
  let blind = false;
  for (let i = 0; i < 3; i++) {
    const b = 1 << i;
    if (!(axes & (1 << AXIS_LETTERS[i]!))) continue;
    const wanted = value[AXIS_LETTERS[i]!]! * s.unit;
    if (s.known & b) f.offset[i] = f.offset[i]! + (s.at[i]! - s.shift[i]!) - wanted;
    else {
      // Where the cutter stands is unknown, so the words now count from an unknown place: the base frame takes that
      // place if nothing has been said in the old one.
      blind = true;
      if (s.framed & b) f.lostOffset |= b;
      settleFrame(s, b);
      f.blindOffset |= b;
      s.known |= b;
      s.at[i] = wanted + s.shift[i]!;
      s.place = { x: s.at[0]!, y: s.at[1]!, z: s.at[2]! };
    }
  }
  for (let i = 0; i < 3; i++) f.keptOffset[i] = f.offset[i]!;
  f.keptSaid = true;
  if (blind) s.zeros.push({ line: s.line, code: 'G92', system: null });
  writeOffsets(s);
  shiftAnew(s);
}

/** G92.1, G92.2 (and the end of a program), G92.3: takes the offsets away or brings them back. */
export function changeOffsets(s: MachineState, to: 'cancel and forget' | 'cancel' | 'restore'): void {
  const f = s.frames;
  for (let i = 0; i < 3; i++) {
    if (to === 'cancel and forget') f.keptOffset[i] = 0;
    f.offset[i] = to === 'restore' ? f.keptOffset[i]! : 0;
  }
  if (to === 'restore' && !f.keptSaid) {
    s.zeros.push({ line: s.line, code: 'G92.3', system: null });
    f.lostOffset |= s.framed;
  }
  if (to === 'cancel and forget') f.keptSaid = true;
  f.lostOffset |= f.blindOffset;
  if (to === 'cancel and forget') writeOffsets(s);
  shiftAnew(s);
}

function writeOffsets(s: MachineState): void {
  for (let i = 0; i < 3; i++) s.parameters[5211 + i] = s.frames.keptOffset[i]! / s.unit;
}

/** A machine coordinate (mm) in the base frame; null when the text does not say where the frame lies. */
export function fromMachine(s: MachineState, axis: number, coordinate: number): number | null {
  settleFrame(s, 1 << axis);
  return s.frames.baseKnown & (1 << axis) ? coordinate - s.frames.base[axis]! : null;
}

/**
 * Takes the frame in which the origins are given as the base, and places those coordinate systems in it.
 * @throws RangeError for a number other than 54 to 59.
 */
export function placeSystems(s: MachineState, origins: ReadonlyMap<number, Place>): void {
  const f = s.frames;
  s.framed = 7;
  f.baseKnown = 7;
  f.baseSystem.fill(0);
  for (const [code, { x, y, z }] of origins) {
    const origin = f.origin[code - 53];
    if (origin === undefined || code < 54 || code > 59)
      throw new RangeError(`readProgram: G${code} is no work offset; G54 to G59 are`);
    origin.set([x, y, z]);
    f.originKnown[code - 53] = 7;
  }
  shiftAnew(s);
}
