import type { Diagnostic, MasterMate } from '@haunch/model';
import { axisVector, dot, type Vec } from '../frame.js';
import { escapeAlong, type Meeting, shallowestAxis, travelAlong } from './course.js';
import { cannotEnter, loose, narrow, noStop, notLocated, shallow, shifted, short } from './diagnostics.js';
import { back, directionName, distinctDirections, sameWay, unitVector } from './direction.js';
import { CLOSE, SAME_WAY, SKIN } from './dryfit-tolerance.js';
import { type Place, placesOf } from './joint-place.js';
import type { Solid } from './solid.js';

/** How far the entering plate can go in one direction at one place. */
export interface DirectionClearance {
  /** `+X`, or the components of a unit vector. */
  readonly direction: string;
  /** mm; null where nothing is in the way. */
  readonly clearance: number | null;
  /** Whether the joint is to hold it in this direction. */
  readonly located: boolean;
}

/** One feature of a joint, judged alone. */
export interface PlaceClearance {
  readonly feature: string;
  readonly directions: readonly DirectionClearance[];
}

/** What a joint leaves its entering plate. mm */
export interface JointClearance {
  readonly joint: string;
  readonly slotPart: string;
  readonly enteringPart: string;
  readonly places: readonly PlaceClearance[];
  /** How far the entering plate can be drawn back against the way it went in; null: all the way. */
  readonly withdraws: number | null;
}

/** A joint's clearances and what is wrong with it. */
export interface JudgedJoint {
  readonly clearance: JointClearance;
  readonly problems: readonly Diagnostic[];
}

const rounded = (t: number): number | null => (Number.isFinite(t) ? Math.round(t * 1e4) / 1e4 : null);

/** A slot farther beside its plate than this is another slot, mm, unless its far wall shows that it is the one. */
const BESIDE = 5;

/** How far a plate can stand beside a slot and still be in it: as wide as the slot is that way, or the plate thick. mm */
function extentAlong(slot: Solid, feature: string, way: Vec, entering: Solid): number {
  const contour = [...slot.part.through, ...slot.part.pockets].find((c) => c.id === feature);
  if (!contour) return entering.thickness;
  const [x, y] = [dot(way, slot.frame.u), dot(way, slot.frame.v)];
  const at = contour.ring.vertices.map((v) => v.x * x + v.y * y);
  return Math.max(...at) - Math.min(...at);
}

/** The same place with its entering plate moved, mm. */
const after = ({ axes, a, b }: Meeting, way: Vec, by: number): Meeting => ({
  axes,
  a: a.map(({ block, along }) => ({
    block,
    along: along.map(([low, high], i): readonly [number, number] => {
      const d = by * dot(axes[i]!, way);
      return [low + d, high + d];
    }),
  })),
  b,
});

/** Names the overlap at one place: what move would take it away with the plate still in its slot, if any. */
function overlapAt(
  mate: MasterMate,
  { feature, meeting }: Place,
  entering: Solid,
  slot: Solid,
  volume: number,
): Diagnostic {
  const at = { joint: mate.id, part: mate.slotPart, feature };
  const out = back(unitVector(axisVector(mate.enteringMoves)));
  // A plate that leans goes beside its slot on its shoulders: in the slotted plate's plane, not square to its own.
  const leans = meeting.axes.length > 3;
  const sideways = bothWays(meeting.axes).filter(
    (d) => Math.abs(dot(d, out)) < SAME_WAY || (leans && Math.abs(dot(d, slot.frame.n)) < SAME_WAY),
  );
  const backwards = escapeAlong(meeting, out);
  let best: { way: Vec; by: number } | undefined;
  for (const way of sideways) {
    const by = escapeAlong(meeting, way);
    if (by <= 0 || (best && by >= best.by - 1e-6)) continue;
    // Farther on it stands in another slot, which tells nothing of this one.
    if (by > Math.max(BESIDE, extentAlong(slot, feature, way, entering))) continue;
    if (by <= BESIDE || travelAlong(after(meeting, way, by), way) <= CLOSE) best = { way, by };
  }
  // Drawn back, a plate that leans leaves the arris of a narrow wall too; what it presses on tells the two apart.
  const pressed = leans ? shallowestAxis(meeting) : undefined;
  const lengthwise = pressed === undefined || Math.abs(dot(pressed, out)) > 0.5;
  const shortBy =
    lengthwise && backwards > 0 && Number.isFinite(backwards) && (!best || backwards <= best.by);
  // Drawn back through the whole plate it is out of a through slot, and does not stop in it.
  const stillIn = !slot.part.through.some((c) => c.id === feature) || backwards < slot.thickness;
  if (shortBy && stillIn) {
    const home = after(meeting, out, backwards);
    if (sideways.some((d) => travelAlong(home, d) <= CLOSE))
      return slot.part.pockets.some((p) => p.id === feature)
        ? shallow(at, mate.enteringPart, backwards)
        : short(at, mate.enteringPart, backwards);
  }
  return best
    ? shifted(at, mate.enteringPart, best.by, directionName(best.way))
    : narrow(at, mate.enteringPart, volume);
}

/** Unit vectors with their opposites, each once. */
function bothWays(all: readonly Vec[]): Vec[] {
  const out: Vec[] = [];
  for (const axis of all)
    for (const d of [unitVector(axis), back(unitVector(axis))])
      if (!out.some((w) => sameWay(w, d))) out.push(d);
  return out;
}

/**
 * How far an entering plate can go square to its faces at one place, mm. One that leans bears on its shoulders and would
 * be stopped by them, however wide its slot: what its walls leave is asked along the slotted plate instead.
 */
function gapAcross(meeting: Meeting, d: Vec): number {
  const [, , faces, inSlot] = meeting.axes;
  if (inSlot === undefined || Math.abs(Math.abs(dot(faces!, d)) - 1) > SAME_WAY)
    return travelAlong(meeting, d);
  const slide = dot(inSlot, d);
  const toward = unitVector(slide < 0 ? back(inSlot) : inSlot);
  return Math.max(travelAlong(meeting, d), travelAlong(meeting, toward) * Math.abs(slide));
}

/**
 * Measures a joint at each of its places, and says what does not hold as it is to hold. `elsewhere` names features that
 * belong to other joints of the same two parts.
 */
export function judgeJoint(
  mate: MasterMate,
  entering: Solid,
  slot: Solid,
  volume: number,
  play: number,
  elsewhere: readonly string[],
): JudgedJoint {
  const { places: all, whole } = placesOf(mate, entering, slot);
  const own = all.filter((p) => !elsewhere.includes(p.feature) || mate.slotFeatures.includes(p.feature));
  const places = own.length > 0 ? own : all;
  const withdraws = travelAlong(whole, back(unitVector(axisVector(mate.enteringMoves))));
  const moves = unitVector(axisVector(mate.enteringMoves));
  const stop = unitVector(axisVector(mate.stopsOn ?? mate.enteringMoves));
  const locates = mate.locates.map((d) => unitVector(axisVector(d)));
  const stops = mate.stopsOn !== undefined && !locates.some((d) => sameWay(d, stop));
  const held = stops ? [...locates, stop] : locates;
  const asked = distinctDirections([...(places[0]?.meeting.axes ?? []), moves, ...held]);
  const isHeld = (d: Vec): boolean => held.some((h) => sameWay(h, d));
  const measured = places.map((place) => ({
    place,
    gaps: asked.map((d) => ({ d, gap: travelAlong(place.meeting, d) })),
    overlaps: escapeAlong(place.meeting, moves) > 0 || escapeAlong(place.meeting, back(moves)) > 0,
  }));
  const problems: Diagnostic[] = [];
  if (volume > 0) {
    const clashing = measured.filter((m) => m.overlaps);
    for (const m of clashing) problems.push(overlapAt(mate, m.place, entering, slot, volume));
    if (clashing.length === 0)
      problems.push(
        narrow({ joint: mate.id, part: slot.id, feature: measured[0]!.place.feature }, entering.id, volume),
      );
  } else {
    for (const d of held) {
      const gaps = measured.map((m) => gapAcross(m.place.meeting, d));
      const least = Math.min(...gaps);
      const gap = Number.isFinite(least) ? least : null;
      const toward = directionName(d);
      if (least > Math.max(play + SKIN, CLOSE)) {
        problems.push(
          sameWay(d, stop)
            ? noStop(mate.id, slot.id, entering.id, gap, toward)
            : notLocated(mate.id, slot.id, entering.id, gap, toward),
        );
        continue;
      }
      measured.forEach((m, i) => {
        // Shoulders at several heights are usual: what stops a part must do so in one place only. A wall nearer than
        // the plate is thick is a wall of this place, however well its neighbours hold.
        const [limit, near] = sameWay(d, stop) ? [least, CLOSE] : [gaps[i]!, entering.thickness];
        if (limit > play + SKIN && gaps[i]! <= near)
          problems.push(
            loose({ joint: mate.id, part: slot.id, feature: m.place.feature }, entering.id, gaps[i]!, toward),
          );
      });
    }
    if (withdraws < CLOSE)
      problems.push(cannotEnter(mate.id, slot.id, entering.id, withdraws, directionName(moves)));
  }
  return {
    clearance: {
      joint: mate.id,
      slotPart: slot.id,
      enteringPart: entering.id,
      places: measured.map(({ place, gaps }) => ({
        feature: place.feature,
        directions: gaps.map(({ d, gap }) => ({
          direction: directionName(d),
          clearance: rounded(gap),
          located: isHeld(d),
        })),
      })),
      withdraws: rounded(withdraws),
    },
    problems,
  };
}
