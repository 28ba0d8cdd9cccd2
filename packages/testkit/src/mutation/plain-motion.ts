import type { DialectMeaning, Place } from '@haunch/model';
import { wordsOfLine } from './words-of-line.js';

/** A motion as the plain reader understands it. mm, mm/min, rev/min. */
export interface PlainMotion {
  readonly line: number;
  readonly rapid: boolean;
  readonly from: Place;
  readonly to: Place;
  /** Of an arc in the sheet's plane: its centre and signed sweep in radians. */
  readonly arc: { readonly x: number; readonly y: number; readonly sweep: number } | null;
  readonly feed: number;
  readonly spindle: number;
  readonly tool: number;
}

/** What the plain reader makes of a program. */
export interface PlainProgram {
  readonly motions: readonly PlainMotion[];
  readonly ended: boolean;
}

const AXES = ['X', 'Y', 'Z'] as const;

/** Codes that the plain reader passes over, since a program of the sheet's plane means the same without them. */
const IDLE = new Set([
  'G4',
  'G17',
  'G40',
  'G49',
  'G54',
  'G61',
  'G64',
  'G80',
  'G94',
  'M0',
  'M1',
  'M6',
  'M7',
  'M8',
  'M9',
]);

/**
 * Reads a simple program in the most straightforward way that there is: a second opinion, sharing no code with the
 * reader of `@haunch/nc`. Knows straight moves and arcs in the sheet's plane by I and J or R, both units, absolute
 * and incremental places, spindle, tool and end; null for a program that says anything else.
 */
export function plainMotion(text: string, meaning: DialectMeaning = {}): PlainProgram | null {
  let unit = 1;
  let relative = false;
  let motion = -1;
  let feed = 0;
  let spindle = 0;
  let speed = 0;
  let turning = 0;
  let tool = 0;
  let waiting = 0;
  let at: Place = { x: 0, y: 0, z: 1000 };
  const motions: PlainMotion[] = [];
  const lines = text.split('\n');
  for (let n = 0; n < lines.length; n++) {
    const words = wordsOfLine(lines[n]!);
    const value = new Map<string, number>();
    const codes: string[] = [];
    for (const w of words) {
      if (w.letter === 'G' || w.letter === 'M') codes.push(`${w.letter}${Number(w.number)}`);
      else if (w.letter !== 'N') value.set(w.letter, Number(w.number));
    }
    const dwell = codes.includes('G4');
    if (value.has('T')) waiting = value.get('T')!;
    if (value.has('S')) speed = value.get('S')!;
    let ended = false;
    for (const c of codes) {
      if (c === 'G20' || c === 'G70') unit = 25.4;
      else if (c === 'G21' || c === 'G71') unit = 1;
      else if (c === 'G90') relative = false;
      else if (c === 'G91') relative = true;
      else if (c === 'G0' || c === 'G1' || c === 'G2' || c === 'G3') motion = Number(c.slice(1));
      else if (c === 'M3') turning = 1;
      else if (c === 'M4') turning = -1;
      else if (c === 'M5') turning = 0;
      else if (c === 'M2' || c === 'M30') ended = true;
      else if (!IDLE.has(c)) return null;
      if (c === 'M6') tool = waiting;
    }
    spindle = turning * speed;
    if (value.has('F')) feed = value.get('F')! * unit;
    if (!dwell && AXES.some((a) => value.has(a))) {
      const axis = (letter: (typeof AXES)[number], was: number): number =>
        value.has(letter) ? value.get(letter)! * unit + (relative ? was : 0) : was;
      const to: Place = { x: axis('X', at.x), y: axis('Y', at.y), z: axis('Z', at.z) };
      if (motion < 0) return null;
      let arc: PlainMotion['arc'] = null;
      if (motion >= 2) {
        const whole = { i: (value.get('I') ?? 0) * unit, j: (value.get('J') ?? 0) * unit };
        let x = meaning.centres === 'absolute' ? whole.i : at.x + whole.i;
        let y = meaning.centres === 'absolute' ? whole.j : at.y + whole.j;
        if (value.has('R')) {
          const r = value.get('R')! * unit;
          const half = Math.hypot(to.x - at.x, to.y - at.y) / 2;
          const h = Math.sqrt(Math.max(0, r * r - half * half)) * ((motion === 3) === r > 0 ? 1 : -1);
          x = (at.x + to.x) / 2 - (h * (to.y - at.y)) / (2 * half);
          y = (at.y + to.y) / 2 + (h * (to.x - at.x)) / (2 * half);
        }
        const a = Math.atan2(at.y - y, at.x - x);
        const b = Math.atan2(to.y - y, to.x - x);
        let sweep = b - a;
        if (motion === 3) while (sweep <= 1e-9) sweep += 2 * Math.PI;
        else while (sweep >= -1e-9) sweep -= 2 * Math.PI;
        arc = { x, y, sweep };
      }
      motions.push({ line: n + 1, rapid: motion === 0, from: at, to, arc, feed, spindle, tool });
      at = to;
    }
    if (ended) return { motions, ended };
  }
  return { motions, ended: false };
}
