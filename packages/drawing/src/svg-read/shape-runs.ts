import type { Diagnostic } from '@haunch/model';
import { badPathData, badSvgNumber } from '../diagnostics.js';
import { type CurveRun, polygonRun } from './curve-run.js';
import type { SvgElement } from './element-tree.js';
import { inUserUnits, readLength } from './length.js';
import { LARGEST, numberAt, readNumbers, skipComma } from './numbers.js';
import { readPathData } from './path-data.js';
import { ellipseRun, rectRun } from './shapes.js';

/** What lengths of an element are measured by. User units. */
export interface Measure {
  readonly file: string;
  readonly width: number;
  readonly height: number;
  readonly font: number;
  readonly report: (d: Diagnostic) => void;
}

/** The elements that draw curves. */
export const SHAPES: ReadonlySet<string> = new Set([
  'path',
  'line',
  'polyline',
  'polygon',
  'rect',
  'circle',
  'ellipse',
]);

/** An element and its id, to point at. */
export const refOf = (e: SvgElement): { readonly line: number; readonly handle: string | null } => ({
  line: e.line,
  handle: e.attributes.get('id')?.trim() || null,
});

/**
 * The length that an attribute states, in user units; `otherwise` where it is absent. Null, and said, where it
 * is no length or is negative though it is a size.
 */
export function lengthOf(
  e: SvgElement,
  name: string,
  m: Measure,
  along: 'x' | 'y' | 'both',
  otherwise: number,
  sized = false,
): number | null {
  const text = e.attributes.get(name);
  if (text === undefined || (sized && text.trim() === 'auto')) return otherwise;
  const whole =
    along === 'x' ? m.width : along === 'y' ? m.height : Math.sqrt((m.width ** 2 + m.height ** 2) / 2);
  const length = readLength(text);
  const value = length === null ? null : inUserUnits(length, whole, m.font);
  if (value === null || !(Math.abs(value) <= LARGEST) || (sized && value < 0)) {
    m.report(badSvgNumber(m.file, refOf(e), e.name, name, text, sized));
    return null;
  }
  return value;
}

/** The subpaths of a shape in its own user space; null where it is wrong, which has been said. */
export function runsOfShape(e: SvgElement, m: Measure): readonly CurveRun[] | null {
  switch (e.name) {
    case 'path': {
      const text = e.attributes.get('d') ?? '';
      const found = readPathData(text);
      if ('runs' in found) return found.runs;
      m.report(badPathData(m.file, refOf(e), 'path data', text, found.at, found.expected));
      return null;
    }
    case 'polyline':
    case 'polygon':
      return runsOfPoints(e, m);
    case 'line': {
      const n = lengths(e, m, [
        ['x1', 'x', 0],
        ['y1', 'y', 0],
        ['x2', 'x', 0],
        ['y2', 'y', 0],
      ]);
      return (
        n && [
          polygonRun(
            [
              { x: n[0]!, y: n[1]! },
              { x: n[2]!, y: n[3]! },
            ],
            false,
          ),
        ]
      );
    }
    case 'circle': {
      const n = lengths(e, m, [
        ['cx', 'x', 0],
        ['cy', 'y', 0],
      ]);
      const r = lengthOf(e, 'r', m, 'both', 0, true);
      return n && r !== null ? (r > 0 ? [ellipseRun({ x: n[0]!, y: n[1]! }, r, r)] : []) : null;
    }
    case 'ellipse': {
      const n = lengths(e, m, [
        ['cx', 'x', 0],
        ['cy', 'y', 0],
      ]);
      const radii = cornerRadii(e, m);
      if (n === null || radii === null) return null;
      const [rx, ry] = radii;
      return rx > 0 && ry > 0 ? [ellipseRun({ x: n[0]!, y: n[1]! }, rx, ry)] : [];
    }
    default:
      return runsOfRect(e, m);
  }
}

function lengths(
  e: SvgElement,
  m: Measure,
  names: readonly (readonly [string, 'x' | 'y', number])[],
): number[] | null {
  const values = names.map(([name, along, otherwise]) => lengthOf(e, name, m, along, otherwise));
  return values.every((v) => v !== null) ? values : null;
}

/** rx and ry, each standing for the other where only one is given (SVG 2, 10.2 and 10.4). */
function cornerRadii(e: SvgElement, m: Measure): readonly [number, number] | null {
  const rx = lengthOf(e, 'rx', m, 'x', -1, true);
  const ry = lengthOf(e, 'ry', m, 'y', -1, true);
  if (rx === null || ry === null) return null;
  return [rx < 0 ? Math.max(ry, 0) : rx, ry < 0 ? Math.max(rx, 0) : ry];
}

function runsOfRect(e: SvgElement, m: Measure): readonly CurveRun[] | null {
  const n = lengths(e, m, [
    ['x', 'x', 0],
    ['y', 'y', 0],
  ]);
  const w = lengthOf(e, 'width', m, 'x', 0, true);
  const h = lengthOf(e, 'height', m, 'y', 0, true);
  const radii = cornerRadii(e, m);
  if (n === null || w === null || h === null || radii === null) return null;
  if (w === 0 || h === 0) return [];
  return [rectRun(n[0]!, n[1]!, w, h, Math.min(radii[0], w / 2), Math.min(radii[1], h / 2))];
}

function runsOfPoints(e: SvgElement, m: Measure): readonly CurveRun[] | null {
  const text = e.attributes.get('points') ?? '';
  const n = readNumbers(text);
  if (n === null || n.length % 2 !== 0) {
    const { at, expected } = pointsFault(text);
    m.report(badPathData(m.file, refOf(e), 'list of points', text, at, expected));
    return null;
  }
  const points = Array.from({ length: n.length / 2 }, (_, i) => ({ x: n[2 * i]!, y: n[2 * i + 1]! }));
  return points.length < 2 ? [] : [polygonRun(points, e.name === 'polygon')];
}

/** Where a list of points that cannot be read goes wrong. */
function pointsFault(text: string): { readonly at: number; readonly expected: string } {
  let at = skipComma(text, 0).end;
  while (at < text.length) {
    const n = numberAt(text, at);
    if (n === null) return { at, expected: 'a number' };
    if (!(Math.abs(n.value) <= LARGEST)) return { at, expected: 'a number of sensible size' };
    at = skipComma(text, n.end).end;
  }
  return { at, expected: 'the second number of the last point' };
}
