import type { Diagnostic } from '@haunch/model';
import {
  arcsRecovered,
  doubledLines,
  edgesMerged,
  joinedGap,
  keepUnknown,
  partedLines,
  sharedEdge,
  tinyEdges,
} from './diagnostics.js';
import { JOIN } from './join-ends.js';
import type { Repair, RepairBook, RepairKind } from './repair.js';

/** One sentence for all repairs of a kind; borders, gaps and engraving are said where they are found. */
export function repairNotes(book: RepairBook, file: string): Diagnostic[] {
  const done = book.done();
  const of = (...kinds: readonly RepairKind[]): readonly Repair[] =>
    done.filter((r) => kinds.includes(r.kind));
  const most = (list: readonly Repair[]): number => list.reduce((m, r) => Math.max(m, r.deviation), 0);
  const out: Diagnostic[] = [];
  const doubled = of('double', 'overlap');
  if (doubled.length > 0) {
    const entities = new Set(doubled.flatMap((r) => r.entities.map((e) => `${e.line} ${e.handle}`)));
    const first = byLine(doubled);
    out.push(doubledLines(file, { count: entities.size, first: first.entities[0]! }, first.at));
  }
  const gaps = of('join').filter((r) => r.deviation > JOIN);
  if (gaps.length > 0) {
    const widest = gaps.reduce((a, b) => (b.deviation > a.deviation ? b : a));
    out.push(joinedGap(file, gaps.length, widest.deviation, widest.at));
  }
  const parted = of('split');
  if (parted.length > 0) out.push(partedLines(file, tally(parted), byLine(parted).at));
  const shared = of('shared');
  if (shared.length > 0)
    out.push(sharedEdge(file, byLine(shared).entities[0]!, byLine(shared).at, shared.length));
  const tiny = of('tiny');
  if (tiny.length > 0) {
    const longest = tiny.reduce((m, r) => Math.max(m, strokeLength(r)), 0);
    out.push(tinyEdges(file, tally(tiny), byLine(tiny).at, longest));
  }
  const straight = of('straight');
  if (straight.length > 0) out.push(edgesMerged(file, tally(straight), byLine(straight).at, most(straight)));
  const arcs = of('arc');
  if (arcs.length > 0) {
    const chords = arcs.reduce((n, r) => n + chordsOf(r), 0);
    out.push(arcsRecovered(file, tally(arcs), byLine(arcs).at, chords, most(arcs)));
  }
  for (const id of book.unused()) out.push(keepUnknown(file, id));
  return out;
}

const firstLine = (r: Repair): number => r.entities.reduce((m, e) => Math.min(m, e.line), Infinity);
const byLine = (list: readonly Repair[]): Repair =>
  list.reduce((a, b) => (firstLine(b) < firstLine(a) ? b : a));
const tally = (list: readonly Repair[]) => ({ count: list.length, first: byLine(list).entities[0]! });
const chordsOf = (r: Repair): number =>
  r.before.reduce((n, s) => n + s.vertices.length - (s.closed ? 0 : 1), 0);

function strokeLength(r: Repair): number {
  const [a, b] = r.before[0]!.vertices;
  return a === undefined || b === undefined ? 0 : Math.hypot(b.x - a.x, b.y - a.y);
}
