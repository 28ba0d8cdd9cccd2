import type { MasterMate } from '@haunch/model';
import { dot } from '../frame.js';
import { type Extents, type Meeting, meetingOf } from './course.js';
import { CLOSE, SKIN } from './dryfit-tolerance.js';
import { type Pair, pairOf } from './pair.js';
import { profilesOf } from './profile.js';
import type { Solid } from './solid.js';

/** One place of a joint where the entering plate passes through the slotted one's plane: a tenon, a lap, a tongue. */
export interface Place {
  readonly feature: string;
  /** What lies round this place alone, the entering plate first. */
  readonly meeting: Meeting;
}

type Run = [number, number];

/** Where along the line the entering plate is inside the slotted one's slab. */
function runsOf(meeting: Meeting, pair: Pair): Run[] {
  const slot = pair.b;
  const axis = slot.frame.n;
  const height = dot(slot.frame.origin, axis);
  const edge = Math.min(CLOSE, slot.thickness / 4);
  const inside = meeting.a
    .map((e) => {
      // Both planes' line is across the slotted plate's normal, so the block's extent along it is known.
      const a = e.block.a.map((x) => x * dot(pair.acrossA, axis));
      const w = e.block.w.map((x) => x * dot(pair.a.frame.n, axis));
      return { e, low: Math.min(...a) + Math.min(...w), high: Math.max(...a) + Math.max(...w) };
    })
    .filter((x) => x.low < height + slot.thickness - edge && x.high > height + edge)
    .map((x): Run => [x.e.block.s[0], x.e.block.s[1]])
    .sort((x, y) => x[0] - y[0] || x[1] - y[1]);
  const runs: Run[] = [];
  for (const r of inside) {
    const last = runs.at(-1);
    if (last && r[0] <= last[1] + SKIN) last[1] = Math.max(last[1], r[1]);
    else runs.push([r[0], r[1]]);
  }
  return runs;
}

const clipped = (list: readonly Extents[], from: number, to: number): Extents[] =>
  list.flatMap((e) => {
    const s: [number, number] = [Math.max(from, e.block.s[0]), Math.min(to, e.block.s[1])];
    return s[1] - s[0] > SKIN ? [{ block: { ...e.block, s }, along: [s, ...e.along.slice(1)] }] : [];
  });

/** The contour of the slotted plate that the entering one passes at a run; the mate's words for it, or the outline. */
function featureAt(mate: MasterMate, pair: Pair, run: Run, index: number): string {
  const slot = pair.b;
  const named: string[] = [];
  const middle = dot(pair.a.frame.origin, pair.a.frame.n) + pair.a.thickness / 2;
  profilesOf(slot, pair.line, pair.acrossB).forEach((p, k) => {
    p.voids.forEach((c, i) => {
      const id = slot.layers[k]!.voids[i]!.id;
      const share = Math.min(run[1], c.s[1]) - Math.max(run[0], c.s[0]);
      if (share <= SKIN || named.includes(id)) return;
      if (pair.lie === 'square') {
        const at = middle * Math.sign(dot(pair.acrossB, pair.a.frame.n));
        if (at < c.a[0] || at > c.a[1]) return;
      } else if (!mate.slotFeatures.includes(id)) return;
      named.push(id);
    });
  });
  const outline = `${slot.id}.outline`;
  const words = mate.slotFeatures.filter(
    (f) => ![...slot.part.through, ...slot.part.pockets].some((c) => c.id === f),
  );
  return named[0] ?? words[index] ?? words[0] ?? outline;
}

/**
 * The places of a joint, each with what lies round it alone, so that a wide mortise does not hide behind a tight twin.
 * The bounds between places are half-way between them.
 */
export function placesOf(
  mate: MasterMate,
  entering: Solid,
  slot: Solid,
): { readonly places: readonly Place[]; readonly whole: Meeting } {
  const pair = pairOf(entering, slot);
  const meeting = meetingOf(pair);
  const runs = pair.lie === 'parallel' ? [] : runsOf(meeting, pair);
  if (runs.length === 0)
    return {
      places: [{ feature: mate.slotFeatures[0] ?? `${slot.id}.outline`, meeting }],
      whole: meeting,
    };
  const places = runs.map((run, i) => {
    const from = i === 0 ? -Infinity : (runs[i - 1]![1] + run[0]) / 2;
    const to = i === runs.length - 1 ? Infinity : (run[1] + runs[i + 1]![0]) / 2;
    return {
      feature: featureAt(mate, pair, run, i),
      meeting: {
        axes: meeting.axes,
        a: clipped(meeting.a, from, to),
        b: clipped(meeting.b, from, to),
      },
    };
  });
  return { places, whole: meeting };
}
