import type { DialectMeaning, Place } from '@haunch/model';
import type { PlainMotion, PlainProgram } from './plain-motion.js';

/** A way of writing that changes no cut by more than a few micrometres. */
export interface RewriteStyle {
  readonly unit: 'mm' | 'inch';
  /** Places counted from the last one (G91). */
  readonly incremental: boolean;
  readonly arcs: 'centre' | 'absolute centre' | 'radius' | 'halves' | 'quarters' | 'chords';
  /** Every straight move in two. */
  readonly halvedLines: boolean;
  /** Repeated words and motion codes are left out. */
  readonly modal: boolean;
  /** First block number and step; none. */
  readonly numbers: readonly [number, number] | null;
  readonly blanks: boolean;
  readonly lowerCase: boolean;
  /** `G01 X+012.50` instead of `G1 X12.5`. */
  readonly padded: boolean;
  readonly comments: boolean;
  /** G70 and G71 for the units, as ISO 6983-1 has them. */
  readonly isoUnits: boolean;
}

const choose = <T>(random: () => number, list: readonly T[]): T => list[Math.floor(random() * list.length)]!;

/** A style that chance makes up. */
export function someStyle(random: () => number): RewriteStyle {
  const flag = (): boolean => random() < 0.5;
  return {
    unit: choose(random, ['mm', 'inch']),
    incremental: flag(),
    arcs: choose(random, ['centre', 'absolute centre', 'radius', 'halves', 'quarters', 'chords']),
    halvedLines: random() < 0.3,
    modal: flag(),
    numbers: flag() ? [1 + Math.floor(random() * 50), choose(random, [1, 5, 10])] : null,
    blanks: flag(),
    lowerCase: random() < 0.3,
    padded: random() < 0.3,
    comments: random() < 0.3,
    isoUnits: random() < 0.3,
  };
}

/** What a reader must be told to read a style. */
export const meaningOfStyle = (style: RewriteStyle): DialectMeaning => ({
  ...(style.isoUnits ? { units: 'G70 G71' as const } : {}),
  ...(style.arcs === 'absolute centre' ? { centres: 'absolute' as const } : {}),
});

/** Chords stay this close to their arc, mm. */
const CHORD = 0.002;
/** R words are written up to this sweep only: near half a turn the centre runs away with the last decimal. */
const RADIUS_UP_TO = (150 * Math.PI) / 180;

interface Stroke {
  readonly motion: PlainMotion;
  readonly from: Place;
  readonly to: Place;
  readonly sweep: number;
}

const onArc = (m: PlainMotion, t: number): Place => {
  const { x, y, sweep } = m.arc!;
  const r = Math.hypot(m.from.x - x, m.from.y - y);
  const a = Math.atan2(m.from.y - y, m.from.x - x) + t * sweep;
  return { x: x + r * Math.cos(a), y: y + r * Math.sin(a), z: m.from.z + t * (m.to.z - m.from.z) };
};

/** A motion in as many blocks as the style wants. */
function strokesOf(m: PlainMotion, style: RewriteStyle): Stroke[] {
  const cut = (n: number, sweep: number): Stroke[] =>
    Array.from({ length: n }, (_, k) => {
      const at = (t: number): Place =>
        t === 0
          ? m.from
          : t === 1
            ? m.to
            : m.arc !== null
              ? onArc(m, t)
              : {
                  x: m.from.x + t * (m.to.x - m.from.x),
                  y: m.from.y + t * (m.to.y - m.from.y),
                  z: m.from.z + t * (m.to.z - m.from.z),
                };
      return { motion: m, from: at(k / n), to: at((k + 1) / n), sweep };
    });
  if (m.arc === null) return cut(style.halvedLines && !m.rapid ? 2 : 1, 0);
  const whole = Math.abs(m.arc.sweep);
  if (style.arcs === 'chords') {
    const r = Math.hypot(m.from.x - m.arc.x, m.from.y - m.arc.y);
    // The sagitta of a chord over 2φ is r·(1 − cos φ).
    const most = 2 * Math.acos(Math.max(0, 1 - CHORD / Math.max(r, CHORD)));
    return cut(Math.max(1, Math.ceil(whole / most)), 0);
  }
  const longest = style.arcs === 'quarters' ? Math.PI / 2 : style.arcs === 'halves' ? Math.PI : 2 * Math.PI;
  const n = Math.max(1, Math.ceil(whole / longest - 1e-9));
  return cut(n, m.arc.sweep / n);
}

/**
 * Writes a program anew in another style: other units, other arcs, other words, the same cuts. Places are rounded
 * to 0.0001 mm or 0.000001 in. What is read back moves no path by more than chords of 0.002 mm and that rounding.
 */
export function rewriteProgram(program: PlainProgram, style: RewriteStyle): string {
  const lines: string[] = [];
  const scale = style.unit === 'inch' ? 25.4 : 1;
  const decimals = style.unit === 'inch' ? 6 : 4;
  const step = 10 ** decimals;
  const grid = (v: number): number => Math.round((v / scale) * step);
  const spell = (letter: string, units: number): string => {
    const sign = units < 0 ? '-' : style.padded ? '+' : '';
    const text = (Math.abs(units) / step).toFixed(decimals);
    const bare = style.padded ? text : text.replace(/\.?0+$/, '');
    return `${letter}${sign}${bare === '' ? '0' : bare}`;
  };
  const code = (letter: string, n: number): string =>
    `${letter}${style.padded && n < 10 ? `0${n}` : String(n)}`;
  let number = style.numbers?.[0] ?? 0;
  const say = (words: readonly string[]): void => {
    if (words.length === 0) return;
    const text = words.join(style.blanks ? ' ' : '');
    const numbered = style.numbers === null ? text : `N${number}${style.blanks ? ' ' : ''}${text}`;
    number += style.numbers?.[1] ?? 0;
    // Block numbers end at 99999 (NISTIR 6556, 3.3.2.1).
    if (number > 99_999) number = style.numbers?.[0] ?? 0;
    lines.push(style.lowerCase ? numbered.toLowerCase() : numbered);
    if (style.comments && lines.length % 17 === 0) lines.push('(written anew: X1 Y2 mean nothing here)');
  };
  const unit = style.isoUnits ? (style.unit === 'inch' ? 70 : 71) : style.unit === 'inch' ? 20 : 21;
  say([17, unit, 40, 49, 80, 90, 94, 54].map((g) => code('G', g)));
  let tool = -1;
  let spindle = 0;
  let feed = Number.NaN;
  let motion = -1;
  // Where the control stands, in grid units; an axis counts once the text has said it.
  let at = { x: 0, y: 0, z: 0 };
  const said = new Set<'x' | 'y' | 'z'>();
  let relative = false;
  for (const m of program.motions) {
    if (m.tool !== tool && m.tool !== 0) {
      if (spindle !== 0) say([code('M', 5)]);
      spindle = 0;
      say([code('T', m.tool), code('M', 6)]);
      tool = m.tool;
    }
    if (m.spindle !== spindle) {
      say(m.spindle === 0 ? [code('M', 5)] : [`S${Math.abs(m.spindle)}`, code('M', m.spindle > 0 ? 3 : 4)]);
      if (m.spindle !== 0) say([code('G', 4), 'P5']);
      spindle = m.spindle;
      motion = -1;
    }
    for (const s of strokesOf(m, style)) {
      const from = at;
      const to = { x: grid(s.to.x), y: grid(s.to.y), z: grid(s.to.z) };
      const g = m.rapid ? 0 : s.sweep === 0 ? 1 : s.sweep > 0 ? 3 : 2;
      if (said.size === 3 && style.incremental !== relative) {
        say([code('G', style.incremental ? 91 : 90)]);
        relative = style.incremental;
      }
      const first = said.size === 0;
      const words: string[] = [];
      let moving = s.sweep !== 0;
      if (g !== motion || !style.modal) words.push(code('G', g));
      for (const axis of ['z', 'x', 'y'] as const) {
        const moves = !said.has(axis) || to[axis] !== from[axis];
        // The report asks for X or Y in an arc, even in a whole turn.
        const needed = s.sweep !== 0 && axis !== 'z';
        if (!moves && !needed && (style.modal || relative)) continue;
        words.push(spell(axis.toUpperCase(), to[axis] - (relative ? from[axis] : 0)));
        moving ||= moves;
        said.add(axis);
        // The first motion of a program lifts, wherever the cutter stands.
        if (first) break;
      }
      at = to;
      if (!moving) continue;
      if (s.sweep !== 0) {
        const arc = m.arc!;
        const r = Math.hypot(m.from.x - arc.x, m.from.y - arc.y);
        if (style.arcs === 'radius' && Math.abs(s.sweep) <= RADIUS_UP_TO) words.push(spell('R', grid(r)));
        else {
          const base = style.arcs === 'absolute centre' ? { x: 0, y: 0 } : from;
          words.push(spell('I', grid(arc.x) - base.x), spell('J', grid(arc.y) - base.y));
        }
      }
      if (!m.rapid && (m.feed !== feed || !style.modal)) {
        words.push(`F${Math.floor((m.feed / scale) * 1000) / 1000}`);
        feed = m.feed;
      }
      say(words);
      motion = g;
    }
  }
  if (spindle !== 0) say([code('M', 5)]);
  say([code('M', 2)]);
  return `${lines.join('\n')}\n`;
}
