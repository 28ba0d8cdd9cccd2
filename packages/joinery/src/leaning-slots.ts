import type { Diagnostic, MasterMate } from '@haunch/model';
import type { MateContacts } from './contact.js';
import { leaningSlot } from './diagnostics.js';
import { cross, dot, length, type Vec } from './frame.js';
import { facingAcross } from './group-fits.js';
import type { Plate, PlateEdge } from './plate.js';
import { LEAST_LEAN, SAME_DIRECTION, SAME_PLACE } from './tolerances.js';

const along = (e: PlateEdge, line: Vec): boolean => Math.abs(dot(e.normal, line)) < SAME_DIRECTION;

/**
 * The slots named by a mate whose walls ought to touch a plate that passes at an angle, and do not because the slot has
 * another width than the angle asks for: t2/sin θ + height/tan θ. Plates square to each other are left to the dry fit.
 */
export function wrongLeaningSlots(
  mate: MasterMate,
  slot: Plate,
  entering: Plate,
  { faces }: MateContacts,
): Diagnostic[] {
  const sine = length(cross(slot.frame.n, entering.frame.n));
  const cosine = Math.abs(dot(slot.frame.n, entering.frame.n));
  if (sine < LEAST_LEAN || cosine < SAME_DIRECTION) return [];
  const unit = 1 / sine;
  const [x, y, z] = cross(slot.frame.n, entering.frame.n);
  const line: Vec = [x * unit, y * unit, z * unit];
  const touching = new Set(faces.map((c) => c.edge.tag));
  return mate.slotFeatures.flatMap((feature) => {
    if (feature === `${slot.id}.outline`) return [];
    const walls = slot.edges.filter((e) => e.contour === feature && along(e, line));
    const [one, other] = walls;
    if (!one || !other || walls.length > 2 || walls.every((w) => touching.has(w.tag))) return [];
    const is = facingAcross(one, other);
    const needs = (entering.part.thickness! + (one.w[1] - one.w[0]) * cosine) / sine;
    if (is === undefined || Math.abs(is - needs) <= 2 * SAME_PLACE) return [];
    const degrees = (Math.asin(Math.min(1, sine)) * 180) / Math.PI;
    return [leaningSlot(mate.id, slot.id, feature, entering.id, { degrees, needs, is })];
  });
}
