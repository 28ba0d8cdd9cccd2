import type { Point } from '@haunch/geometry';
import { cubicOfQuadratic } from '../curves/cubic.js';
import type { Curve, CurveRun } from './curve-run.js';
import { arcOfCommand } from './elliptical-arc.js';
import { isSpace, LARGEST, numberAt, skipComma } from './numbers.js';

/** Where and why path data cannot be read. */
export interface PathFault {
  /** Place in the text, from 0. */
  readonly at: number;
  /** What was expected there. */
  readonly expected: string;
}

/** How many numbers each command takes (SVG 2, 9.3). */
const TAKES: Readonly<Record<string, number>> = {
  M: 2,
  L: 2,
  H: 1,
  V: 1,
  C: 6,
  S: 4,
  Q: 4,
  T: 2,
  A: 7,
  Z: 0,
};
/** Which of an arc's numbers are flags: one character, after which the next number may follow at once. */
const isFlag = (command: string, i: number): boolean => command === 'A' && (i === 3 || i === 4);

/** Draws as the commands say; holds the pen, the start of the subpath and the last control point. */
class Pen {
  readonly runs: CurveRun[] = [];
  #start: Point = { x: 0, y: 0 };
  #at: Point = { x: 0, y: 0 };
  #curves: Curve[] = [];
  #control: { readonly of: 'C' | 'Q'; readonly p: Point } | null = null;

  finish(closed: boolean): void {
    if (this.#curves.length > 0) this.runs.push({ start: this.#start, curves: this.#curves, closed });
    this.#curves = [];
  }

  #mirrored(of: 'C' | 'Q'): Point {
    const c = this.#control;
    return c?.of === of ? { x: 2 * this.#at.x - c.p.x, y: 2 * this.#at.y - c.p.y } : this.#at;
  }

  #go(curve: Curve, control: { readonly of: 'C' | 'Q'; readonly p: Point } | null = null): void {
    this.#curves.push(curve);
    this.#at = curve.to;
    this.#control = control;
  }

  /** Carries out one command in upper case; `relative` as it was written. */
  draw(command: string, n: readonly number[], relative: boolean): void {
    const [ox, oy] = relative ? [this.#at.x, this.#at.y] : [0, 0];
    const p = (i: number): Point => ({ x: n[i]! + ox, y: n[i + 1]! + oy });
    switch (command) {
      case 'M':
        this.finish(false);
        this.#at = p(0);
        this.#start = this.#at;
        this.#control = null;
        break;
      case 'Z':
        this.finish(true);
        this.#at = this.#start;
        this.#control = null;
        break;
      case 'L':
        this.#go({ kind: 'line', to: p(0) });
        break;
      case 'H':
        this.#go({ kind: 'line', to: { x: n[0]! + ox, y: this.#at.y } });
        break;
      case 'V':
        this.#go({ kind: 'line', to: { x: this.#at.x, y: n[0]! + oy } });
        break;
      case 'C':
        this.#go({ kind: 'cubic', c1: p(0), c2: p(2), to: p(4) }, { of: 'C', p: p(2) });
        break;
      case 'S':
        this.#go({ kind: 'cubic', c1: this.#mirrored('C'), c2: p(0), to: p(2) }, { of: 'C', p: p(0) });
        break;
      case 'Q':
        this.#quadratic(p(0), p(2));
        break;
      case 'T':
        this.#quadratic(this.#mirrored('Q'), p(0));
        break;
      case 'A':
        this.#arc(n, p(5));
        break;
    }
  }

  #quadratic(control: Point, to: Point): void {
    const [, c1, c2] = cubicOfQuadratic(this.#at, control, to);
    this.#go({ kind: 'cubic', c1, c2, to }, { of: 'Q', p: control });
  }

  #arc(n: readonly number[], to: Point): void {
    const [rx, ry, rotation, large, positive] = n as readonly [number, number, number, number, number];
    const found = arcOfCommand({
      from: this.#at,
      rx,
      ry,
      rotation,
      large: large === 1,
      positive: positive === 1,
      to,
    });
    this.#go(found === null ? { kind: 'line', to } : { kind: 'arc', arc: found.arc, to });
  }
}

/**
 * The subpaths of path data (SVG 2, 9.3), implicit repetitions and shorthands written out, quadratic curves as
 * cubic ones. One forward walk, linear in the text's length. Where the data is wrong the fault is told, and
 * nothing of it is drawn: a contour with its end missing is no contour.
 */
export function readPathData(text: string): { readonly runs: readonly CurveRun[] } | PathFault {
  const pen = new Pen();
  if (text.trim() === 'none') return { runs: [] };
  let at = skipSpace(text, 0);
  let first = true;
  while (at < text.length) {
    const letter = text[at]!;
    const command = letter.toUpperCase();
    const takes = /^[a-z]$/i.test(letter) ? TAKES[command] : undefined;
    if (takes === undefined) return { at, expected: 'a command (a letter such as M, L or Z)' };
    if (first && command !== 'M') return { at, expected: 'the command M, with which a path begins' };
    first = false;
    at = skipSpace(text, at + 1);
    let doing = command;
    for (;;) {
      const numbers: number[] = [];
      for (let i = 0; i < takes; i++) {
        const n = isFlag(command, i) ? flagAt(text, at) : numberAt(text, at);
        if (n === null) return { at, expected: isFlag(command, i) ? 'a flag (0 or 1)' : 'a number' };
        if (!(Math.abs(n.value) <= LARGEST)) return { at, expected: 'a number of sensible size' };
        numbers.push(n.value);
        const next = skipComma(text, n.end);
        if (next.comma && next.end >= text.length) return { at: next.end, expected: 'a number' };
        if (next.comma && i === takes - 1 && numberAt(text, next.end) === null)
          return { at: next.end, expected: 'a number' };
        at = next.end;
      }
      pen.draw(doing, numbers, letter !== command);
      // A pair after a move is a line (SVG 2, 9.3.3); any other command is repeated.
      if (doing === 'M') doing = 'L';
      if (takes === 0 || numberAt(text, at) === null) break;
    }
  }
  pen.finish(false);
  return { runs: pen.runs };
}

function skipSpace(text: string, from: number): number {
  let at = from;
  while (at < text.length && isSpace(text.charCodeAt(at))) at++;
  return at;
}

const flagAt = (text: string, at: number): { readonly value: number; readonly end: number } | null =>
  text[at] === '0' || text[at] === '1' ? { value: Number(text[at]), end: at + 1 } : null;
