import type { Axis, Diagnostic, Mark, Master, MasterMate, MasterPart } from '@haunch/model';
import { checkFeatures } from './check-features.js';
import {
  frameNotSquare,
  holdDisagrees,
  markMisses,
  notUnit,
  offMark,
  sameId,
  selfMate,
  unknownFeature,
  unknownMark,
  unknownPart,
} from './diagnostics.js';
import { axisVector, cross, dot, frameOf, length, minus } from './frame.js';
import type { Known, PlaceOf } from './known.js';
import { markAxis, markPosition } from './mark.js';
import { SAME_DIRECTION, SAME_PLACE } from './tolerances.js';

/** Ids that occur before in the list, as diagnostics. */
function twice(
  what: string,
  ids: readonly { id: string; path: readonly PropertyKey[] }[],
  at: PlaceOf,
): Diagnostic[] {
  const seen = new Set<string>();
  return ids.flatMap(({ id, path }) => {
    if (seen.has(id)) return [sameId(what, id, at(path))];
    seen.add(id);
    return [];
  });
}

function checkIds(master: Master, at: PlaceOf): Diagnostic[] {
  const own = <T extends { id: string }>(items: readonly T[], path: readonly PropertyKey[]) =>
    items.map(({ id }, i) => ({ id, path: [...path, i, 'id'] }));
  const contours = master.parts.flatMap((p, i) => [
    { id: `${p.id}.outline`, path: ['parts', i, 'id'] },
    ...own(p.through, ['parts', i, 'through']),
    ...own(p.pockets, ['parts', i, 'pockets']),
    ...own(p.holes, ['parts', i, 'holes']),
  ]);
  return [
    ...twice('mark', own(master.marks, ['marks']), at),
    ...twice('part', own(master.parts, ['parts']), at),
    ...twice('mate', own(master.mates, ['mates']), at),
    ...twice('feature', contours, at),
  ];
}

/** An id of a feature, as against a description in words. */
const isId = (text: string): boolean => !/\s/.test(text);

function checkMate(
  mate: MasterMate,
  parts: ReadonlyMap<string, MasterPart>,
  path: readonly PropertyKey[],
  at: PlaceOf,
): Diagnostic[] {
  const out: Diagnostic[] = [];
  for (const end of ['slotPart', 'enteringPart'] as const)
    if (!parts.has(mate[end])) out.push(unknownPart(mate[end], at([...path, end])));
  if (mate.slotPart === mate.enteringPart) out.push(selfMate(mate.slotPart, at([...path, 'enteringPart'])));
  const slot = parts.get(mate.slotPart);
  if (slot) {
    const features = new Set([...slot.through, ...slot.pockets, ...slot.holes].map((f) => f.id));
    features.add(`${slot.id}.outline`);
    mate.slotFeatures.forEach((f, i) => {
      if (isId(f) && !features.has(f)) out.push(unknownFeature(f, slot.id, at([...path, 'slotFeatures', i])));
    });
  }
  const direction = (axis: Axis | undefined, where: readonly PropertyKey[]) => {
    if (axis === undefined) return;
    const l = length(axisVector(axis));
    if (Math.abs(l - 1) > SAME_DIRECTION) out.push(notUnit(l, at([...path, ...where])));
  };
  direction(mate.enteringMoves, ['enteringMoves']);
  direction(mate.stopsOn, ['stopsOn']);
  mate.locates.forEach((axis, i) => {
    direction(axis, ['locates', i]);
  });
  return out;
}

function checkFrame(part: MasterPart, path: readonly PropertyKey[], known: Known): Diagnostic[] {
  const { at } = known;
  const f = frameOf(part);
  for (const axis of ['u', 'v', 'n'] as const) {
    const l = length(f[axis]);
    if (Math.abs(l - 1) > SAME_DIRECTION)
      return [frameNotSquare(`${axis} has length ${+l.toFixed(4)}`, at([...path, 'frame', axis]))];
  }
  if (Math.abs(dot(f.u, f.v)) > SAME_DIRECTION)
    return [frameNotSquare('u and v are not at right angles', at([...path, 'frame', 'v']))];
  if (length(minus(cross(f.u, f.v), f.n)) > 3 * SAME_DIRECTION)
    return [
      frameNotSquare(
        dot(cross(f.u, f.v), f.n) < 0 ? 'u × v points against n' : 'u × v is not n',
        at([...path, 'frame', 'n']),
      ),
    ];
  const on = part.frame.on;
  if (on === undefined)
    return part.hold === 'n-' ? [] : [holdDisagrees(part.hold, 'face n-', at([...path, 'hold']))];
  const mark = known.marks.get(on);
  if (mark === undefined) return [unknownMark(on, at([...path, 'frame', 'on']))];
  if (mark === null) return [];
  const axis = markAxis(mark);
  const slope = dot(axis, f.n);
  if (Math.abs(slope) < SAME_DIRECTION) return [markMisses('the frame', on, at([...path, 'frame', 'on']))];
  const by = Math.abs(dot(axis, f.origin) - markPosition(mark, known.thicknesses));
  if (by > SAME_PLACE) return [offMark("the frame's origin", on, by, at([...path, 'frame', 'on']))];
  // Face n− moves by this share of the plate's own thickness along n: nothing, all of it back, or half of it.
  const share = (mark.terms[part.id] ?? 0) / slope;
  const stays =
    share === 0 ? 'n-' : Math.abs(share + 1) < 1e-9 ? 'n+' : Math.abs(share + 0.5) < 1e-9 ? 'mid' : undefined;
  if (stays === part.hold) return [];
  const words =
    stays === undefined ? 'no plane of the plate' : stays === 'mid' ? 'the mid-plane' : `face ${stays}`;
  return [holdDisagrees(part.hold, words, at([...path, 'hold']))];
}

/**
 * What a master says that cannot be meant, each with its place. Expects a value that its schema allows;
 * checks that rest on names that do not exist are left out.
 */
export function checkMaster(master: Master, at: PlaceOf): Diagnostic[] {
  const parts = new Map(master.parts.map((p) => [p.id, p]));
  const out = checkIds(master, at);
  const marks = new Map<string, Mark | null>();
  master.marks.forEach((mark, i) => {
    const strangers = Object.keys(mark.terms).filter((id) => !parts.has(id));
    out.push(...strangers.map((id) => unknownPart(id, at(['marks', i, 'terms', id]))));
    const long = length(markAxis(mark));
    const unit = Math.abs(long - 1) <= SAME_DIRECTION;
    if (!unit) out.push(notUnit(long, at(['marks', i, 'normal'])));
    if (!marks.has(mark.id)) marks.set(mark.id, strangers.length === 0 && unit ? mark : null);
  });
  const known: Known = {
    marks,
    thicknesses: Object.fromEntries(master.parts.map((p) => [p.id, p.thickness])),
    at,
  };
  master.parts.forEach((part, i) => {
    const path = ['parts', i];
    const frame = checkFrame(part, path, known);
    out.push(...frame);
    out.push(
      ...checkFeatures(
        part,
        path,
        known,
        frame.every((d) => d.level !== 'error'),
      ),
    );
  });
  master.mates.forEach((mate, i) => {
    out.push(...checkMate(mate, parts, ['mates', i], at));
  });
  master.assembly.forEach((step, i) => {
    for (const side of ['fixed', 'moving'] as const)
      step[side].forEach((id, k) => {
        if (!parts.has(id)) out.push(unknownPart(id, at(['assembly', i, side, k])));
      });
    const l = length(axisVector(step.move));
    if (Math.abs(l - 1) > SAME_DIRECTION) out.push(notUnit(l, at(['assembly', i, 'move'])));
  });
  return out;
}
