import { snap } from '@haunch/geometry';
import type { Allowance } from '@haunch/joinery';
import type { Master } from '@haunch/model';
import type { JobFile } from './job-schema.js';

/** What happens to a plate between cutting and its last day, as it acts on a slot's clearance. mm */
export interface FitExtras {
  /** More room for a plate in a slot. */
  readonly thickness: number;
  /** More room for a tenon between a mortise's ends. */
  readonly ends: number;
  /** What it consists of, in words, for the report. */
  readonly reasons: readonly string[];
}

/**
 * How much wider slots are cut than they shall feel: a film on both faces of the plate and, where slots are coated too, on both
 * walls (four films a fit), less what sanding takes off both faces, more what the plate swells between shop and home.
 * @param thickness the plate's, mm, for swelling.
 * @param swelling by which share it grows for each per cent of moisture content, as the shop's fits have it.
 */
export function fitExtras(
  { finish, sanding, moisture }: JobFile['fit'],
  thickness: number,
  swelling: number,
): FitExtras {
  const reasons: string[] = [];
  let [grip, ends] = [0, 0];
  if (finish) {
    const films = finish.slots === 'coated' ? 4 : 2;
    grip += films * finish.film;
    ends += films * finish.film;
    reasons.push(`${films} films of ${finish.film} mm`);
  }
  if (sanding) {
    grip -= 2 * sanding;
    reasons.push(`${sanding} mm sanded off each face`);
  }
  if (moisture) {
    const grown = swelling * thickness * (moisture.home - moisture.shop);
    grip += grown;
    reasons.push(
      `${snap(grown)} mm of swelling from ${moisture.shop} to ${moisture.home} % moisture content`,
    );
  }
  return { thickness: snap(grip), ends: snap(ends), reasons };
}

/** An allowance with more room: the window goes along. */
export const widened = (a: Allowance, by: number): Allowance =>
  by === 0 ? a : { wanted: snap(a.wanted + by), window: [snap(a.window[0] + by), snap(a.window[1] + by)] };

/** How many of the piece's mates go home in one move with each mate, by the assembly's steps; 1 where no step has it. */
export function matesTogether(master: Master): ReadonlyMap<string, number> {
  const together = new Map<string, number>(master.mates.map((m) => [m.id, 1]));
  const seen = new Set<string>();
  for (const step of master.assembly) {
    const engaged = master.mates.filter(
      (m) =>
        !seen.has(m.id) &&
        ((step.moving.includes(m.slotPart) && step.fixed.includes(m.enteringPart)) ||
          (step.moving.includes(m.enteringPart) && step.fixed.includes(m.slotPart))),
    );
    for (const m of engaged) {
      seen.add(m.id);
      together.set(m.id, engaged.length);
    }
  }
  return together;
}

/**
 * The clearance with which n joints going home together take the force that one takes alone: force falls off to nothing at
 * the slack end of the window, so each may have only an n-th of the way left to it. mm; a straight line of force over clearance is
 * common practice, no source.
 */
export function equalKnock(a: Allowance, together: number): Allowance {
  const free = a.window[1];
  return { ...a, wanted: snap(free - (free - a.wanted) / Math.max(1, together)) };
}
