import type { Part } from '@haunch/model';
import { evidence } from '../features/confirm-thickness.js';
import { findThickness } from '../features/find-thickness.js';
import { thicknessMeasures } from '../features/thickness-measures.js';
import { isSlotFor } from '../mates/bands.js';

/** How much shorter or longer than a plate is thick a tenon may be drawn that is meant to come out flush. mm */
const PROUD = 0.8;
/** Fewer places than this are chance. */
const LEAST_SUPPORT = 3;
/** So many thicknesses are named. */
const NAMED = 3;

/** What speaks against the thicknesses at which parts are given. */
export interface ThicknessDoubt {
  /** The given thicknesses, mm. */
  readonly given: readonly number[];
  /** Thicknesses that the parts speak for, in words with what speaks for them. */
  readonly rather: readonly string[];
  /** Whether slots and steps speak for one together: slots for plates that lean are wider than tenons are long. */
  readonly bySteps: boolean;
}

/**
 * Says where no slot of the parts is as wide as any of them is thick (nor, where they have no slots, any step as deep),
 * while at least three slots or steps agree on another thickness; null where the thicknesses fit something. Parts must
 * have thicknesses. mm
 */
export function thicknessDoubt(parts: readonly Part[]): ThicknessDoubt | null {
  const given = [...new Set(parts.flatMap((p) => p.thickness ?? []))].sort((a, b) => a - b);
  const measures = thicknessMeasures(parts);
  const slots = measures.filter((m) => m.what === 'slot');
  const fits =
    slots.length >= LEAST_SUPPORT
      ? slots.some((m) => given.some((t) => isSlotFor(m.width, t)))
      : measures.some((m) => given.some((t) => Math.abs(m.width - t) <= PROUD));
  if (fits) return null;
  const rather = findThickness(parts).candidates.filter((c) => c.support >= LEAST_SUPPORT);
  return rather.length === 0
    ? null
    : {
        given,
        rather: rather.slice(0, NAMED).map(evidence),
        bySteps: rather.some((c) => c.slots > 0 && c.steps > 0),
      };
}
