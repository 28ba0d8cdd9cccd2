import { distance, type Point } from '@haunch/geometry';
import type { Diagnostic, MasterLoop, MasterPart } from '@haunch/model';
import {
  crossingLoop,
  emptySegment,
  markMisses,
  offMark,
  openLoop,
  strayCut,
  unequalRadii,
  unknownMark,
} from './diagnostics.js';
import { frameOf } from './frame.js';
import type { Known } from './known.js';
import { edgesOf, marksOf } from './loop.js';
import { type Cut, cutsOfPart, meetingCuts, selfMeeting } from './loop-problems.js';
import { distanceToTrace, markPosition, traceOf, traceSlope } from './mark.js';
import { SAME_DIRECTION, SAME_PLACE } from './tolerances.js';

type Path = readonly PropertyKey[];

/** Whether points lie on the marks that they are to follow, at the master's own thicknesses. */
function checkMarks(
  names: readonly string[],
  points: readonly Point[],
  what: string,
  part: MasterPart,
  path: Path,
  known: Known,
  framed: boolean,
): Diagnostic[] {
  return names.flatMap((name) => {
    const mark = known.marks.get(name);
    if (mark === undefined) return [unknownMark(name, known.at(path))];
    if (mark === null || !framed) return [];
    const trace = traceOf(mark, markPosition(mark, known.thicknesses), frameOf(part));
    if (traceSlope(trace) < SAME_DIRECTION) return [markMisses(what, name, known.at(path))];
    const by = Math.max(...points.map((p) => Math.abs(distanceToTrace(trace, p))));
    return by > SAME_PLACE ? [offMark(what, name, by, known.at(path))] : [];
  });
}

/** What is wrong with the segments of one loop; a loop that is sound in itself is then checked against crossing. */
function checkLoop(
  loop: MasterLoop,
  cut: Cut,
  part: MasterPart,
  path: Path,
  known: Known,
  framed: boolean,
): Diagnostic[] {
  const { at } = known;
  const out: Diagnostic[] = [];
  const last = loop.segments.at(-1)!;
  const gap = Math.hypot(last.to[0] - loop.start[0], last.to[1] - loop.start[1]);
  if (gap > SAME_PLACE) out.push(openLoop(gap, at([...path, 'segments', loop.segments.length - 1, 'to'])));
  edgesOf(loop).forEach((edge, k) => {
    const place = [...path, 'segments', k];
    if (distance(edge.from, edge.to) <= SAME_PLACE) out.push(emptySegment(at([...place, 'to'])));
    if (edge.centre) {
      const radii = [distance(edge.centre, edge.from), distance(edge.centre, edge.to)] as const;
      if (Math.abs(radii[0] - radii[1]) > SAME_PLACE || radii[0] <= SAME_PLACE)
        out.push(unequalRadii(radii[0], radii[1], at([...place, 'centre'])));
    }
    const marks = marksOf(loop.segments[k]!.on);
    const points = edge.centre ? [edge.centre] : [edge.from, edge.to];
    const what = edge.centre ? "the arc's centre" : 'the edge';
    out.push(...checkMarks(marks, points, what, part, [...place, 'on'], known, framed));
  });
  if (out.length > 0) return out;
  const meeting = selfMeeting(cut.ring);
  return meeting ? [crossingLoop(meeting.problem, { ...at(path), at: meeting.at })] : [];
}

/**
 * What is wrong with the loops, pockets and holes of a part, each with its place. `framed` tells whether the
 * part's frame is sound, without which no edge can be compared with its mark.
 */
export function checkFeatures(part: MasterPart, path: Path, known: Known, framed: boolean): Diagnostic[] {
  const { outline, through, pockets } = cutsOfPart(part);
  const loops = [
    { loop: part.outline, cut: outline, path: [...path, 'outline'] },
    ...part.through.map((c, i) => ({
      loop: c.loop,
      cut: through[i]!,
      path: [...path, 'through', i, 'loop'],
    })),
    ...part.pockets.map((c, i) => ({
      loop: c.loop,
      cut: pockets[i]!,
      path: [...path, 'pockets', i, 'loop'],
    })),
  ];
  const out = loops.flatMap((l) => checkLoop(l.loop, l.cut, part, l.path, known, framed));
  if (out.length === 0)
    for (const m of meetingCuts(outline, through)) {
      const i = through.findIndex((c) => c.id === m.cut);
      out.push(strayCut(m.cut, m.other, { ...known.at([...path, 'through', i, 'loop']), at: m.at }));
    }
  part.holes.forEach((hole, i) => {
    const centre = { x: hole.centre[0], y: hole.centre[1] };
    const place = [...path, 'holes', i, 'on'];
    out.push(...checkMarks(hole.on ?? [], [centre], "the hole's centre", part, place, known, framed));
  });
  return out;
}
