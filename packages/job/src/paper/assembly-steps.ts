import { circleRing, type Point, type Ring, ringArea, ringBounds } from '@haunch/geometry';
import { assemblyOrder, partsOfMaster } from '@haunch/joinery';
import {
  type AssemblyStep,
  type Contour,
  fail,
  type Master,
  type MasterMate,
  type Outcome,
  ok,
  type Part,
} from '@haunch/model';
import { extentAlong, type Solid } from '../assembly-picture/plate-solid.js';
import { along, axisVector, dot, type Vec } from '../assembly-picture/vec.js';
import { noAssemblyOrder } from './diagnostics.js';

/** A place where a joint goes home in a step: the middle of a tenon in its mortise, of a lap, of a housing. World, mm. */
export interface EngagingPlace {
  readonly joint: string;
  readonly feature: string;
  /** The part with the opening, and the one that enters it. */
  readonly slot: string;
  readonly entering: string;
  readonly at: Vec;
  /** Where to tap: the same place, on the far edge of what moves. */
  readonly tap: Vec;
  /** The moving part that is tapped, and the one that stands. */
  readonly part: string;
  readonly partner: string;
}

/** One step of putting together, ready to be drawn. */
export interface PaperAssemblyStep {
  readonly number: number;
  /** All that moves, and all that stands already. */
  readonly moving: readonly string[];
  readonly standing: readonly string[];
  /** Those of what stands that are joined in this step. */
  readonly partners: readonly string[];
  /** Those of what stands that are joined to these already. */
  readonly beside: readonly string[];
  readonly direction: Vec;
  readonly travel: number;
  /** Separate things that must be held at once. */
  readonly hands: number;
  /** What moves weighs about so much, kg, by a density that sheets commonly have. */
  readonly weight: number;
  readonly text: string;
  readonly places: readonly EngagingPlace[];
  readonly joints: readonly string[];
}

/** Density of sheet goods, kg/m³: birch plywood and fibreboard are near it; common practice, no source. */
const DENSITY = 700;
/** One person lifts and aims no more than this, kg; common practice, no source. */
const ONE_LIFTS = 20;

/** How many people a step wants: one for two things that are held, and one more for what is heavy. */
export const peopleFor = ({ hands, weight }: Pick<PaperAssemblyStep, 'hands' | 'weight'>): number =>
  Math.max(hands <= 2 ? 1 : hands <= 4 ? 2 : 3, Math.min(4, Math.ceil(weight / ONE_LIFTS)));

/** A plate's weight, kg: its outline less what is cut through. */
const weightOf = ({ outline, through }: Part, thickness: number): number => {
  const area = (c: Contour): number => Math.abs(ringArea(c.bare));
  return (area(outline) - through.reduce((sum, c) => sum + area(c), 0)) * thickness * DENSITY * 1e-9;
};

/** A step as a list or a plan has it. */
type Listed = Pick<AssemblyStep, 'moving' | 'fixed' | 'text' | 'travel'> & { readonly direction: Vec };

/** The way that a plan names: `+X`, or the components of a unit vector. */
function directionOf(name: string): Vec {
  if (/^[+-][XYZ]$/.test(name)) return axisVector(name as '+X');
  const numbers = (name.match(/-?\d+(?:\.\d+)?(?:e-?\d+)?/g) ?? []).map(Number);
  return [numbers[0] ?? 0, numbers[1] ?? 0, numbers[2] ?? 0];
}

/** The steps that the master lists, or else an order that its geometry gives. */
function listed(master: Master): Outcome<readonly Listed[]> {
  if (master.assembly.length > 0)
    return ok(master.assembly.map((s) => ({ ...s, direction: axisVector(s.move) })));
  const plan = assemblyOrder(master);
  if (!plan.ok) return fail(noAssemblyOrder(master.title, plan.diagnostics[0]?.message ?? 'nothing moves'));
  return ok(plan.value.steps.map((s) => ({ ...s, direction: directionOf(s.direction) })));
}

const middleOf = (ring: Ring): Point => {
  const b = ringBounds(ring);
  return { x: (b.minX + b.maxX) / 2, y: (b.minY + b.maxY) / 2 };
};

/** Where a joint's features lie in the world: openings by their middle, what is open to an edge by where the plates overlap. */
function placesOf(
  { master, parts }: { readonly master: Master; readonly parts: readonly Part[] },
  mate: MasterMate,
  solids: ReadonlyMap<string, Solid>,
): { feature: string; at: Vec }[] {
  const index = master.parts.findIndex((p) => p.id === mate.slotPart);
  const slot = master.parts[index];
  if (!slot) return [];
  const part = parts[index]!;
  const [u, v, n] = [axisVector(slot.frame.u), axisVector(slot.frame.v), axisVector(slot.frame.n)];
  const world = (p: Point): Vec =>
    along(along(along(slot.frame.origin, p.x, u), p.y, v), slot.thickness / 2, n);
  const found = mate.slotFeatures.flatMap((id) => {
    const contour = [...part.through, ...part.pockets].find((c) => c.id === id);
    const hole = part.holes.find((h) => h.id === id);
    const ring = contour?.ring ?? (hole && circleRing(hole.centre, hole.diameter / 2));
    return ring ? [{ feature: id, at: world(middleOf(ring)) }] : [];
  });
  if (found.length > 0) return found;
  const [a, b] = [solids.get(mate.slotPart)!, solids.get(mate.enteringPart)!];
  const at = [0, 1, 2].map((k) => {
    const axis: Vec = [k === 0 ? 1 : 0, k === 1 ? 1 : 0, k === 2 ? 1 : 0];
    const [ea, eb] = [extentAlong(a, axis), extentAlong(b, axis)];
    return (Math.max(ea[0], eb[0]) + Math.min(ea[1], eb[1])) / 2;
  });
  return [{ feature: mate.slotFeatures[0] ?? mate.id, at: [at[0]!, at[1]!, at[2]!] }];
}

/**
 * The steps by which a piece is put together, each with what stands already, the places that engage in that one move, and where to tap. The
 * master's own steps where it lists them, else an order from its geometry; fails where there is none. World, mm.
 */
export function assemblySteps(
  master: Master,
  solids: readonly Solid[],
): Outcome<readonly PaperAssemblyStep[]> {
  const steps = listed(master);
  if (!steps.ok) return steps;
  const solid = new Map(solids.map((s) => [s.id, s]));
  const parts = partsOfMaster(master);
  const places = new Map(master.mates.map((m) => [m.id, placesOf({ master, parts }, m, solid)]));
  const weights = new Map(parts.map((p, i) => [p.id, weightOf(p, master.parts[i]!.thickness)]));
  const clusters = new Map<string, readonly string[]>();
  const clusterOf = (id: string): readonly string[] => clusters.get(id) ?? [id];
  const whole = (ids: readonly string[]): string[] => [...new Set(ids.flatMap(clusterOf))];
  return ok(
    steps.value.map(({ moving: moved, fixed, direction, travel, text }, i): PaperAssemblyStep => {
      const moving = whole(moved);
      const standing = whole(fixed).filter((id) => !moving.includes(id));
      const hands = new Set([...moving, ...standing].map((id) => clusterOf(id)[0]!)).size;
      const mates = master.mates.filter(
        (m) =>
          (moving.includes(m.slotPart) && standing.includes(m.enteringPart)) ||
          (standing.includes(m.slotPart) && moving.includes(m.enteringPart)),
      );
      const engaging = mates.flatMap((m) => {
        const [part, partner] = moving.includes(m.slotPart)
          ? [m.slotPart, m.enteringPart]
          : [m.enteringPart, m.slotPart];
        const [rear] = extentAlong(solid.get(part)!, direction);
        return places.get(m.id)!.map(
          ({ feature, at }): EngagingPlace => ({
            joint: m.id,
            feature,
            slot: m.slotPart,
            entering: m.enteringPart,
            at,
            tap: along(at, rear - dot(at, direction), direction),
            part,
            partner,
          }),
        );
      });
      const partners = standing.filter((id) => mates.some((m) => m.slotPart === id || m.enteringPart === id));
      const near = new Set(
        master.mates.flatMap((m) =>
          partners.includes(m.slotPart)
            ? [m.enteringPart]
            : partners.includes(m.enteringPart)
              ? [m.slotPart]
              : [],
        ),
      );
      const joined = [...standing, ...moving];
      for (const id of joined) clusters.set(id, joined);
      return {
        number: i + 1,
        moving,
        standing,
        partners,
        beside: standing.filter((id) => near.has(id) && !partners.includes(id)),
        direction,
        travel,
        hands,
        weight: Math.round(10 * moving.reduce((sum, id) => sum + (weights.get(id) ?? 0), 0)) / 10,
        text,
        places: engaging,
        joints: mates.map((m) => m.id),
      };
    }),
  );
}
