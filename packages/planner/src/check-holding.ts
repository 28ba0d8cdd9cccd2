import { pointInRing, ringArea } from '@haunch/geometry';
import type { Contour, Diagnostic, Part, Tab } from '@haunch/model';
import { freedUnheld, sheetWeaklyHeld, weakHolding, wouldComeLoose } from './diagnostics.js';
import { areaOver } from './forces/area-over.js';
import { BED_FRICTION, checkHold, type HoldCheck, plateWeight, tabCapacity } from './forces/hold-down.js';
import { finishForce, passForce, passThicknesses } from './forces/pass-force.js';
import type { Operation } from './operation.js';
import { hardestOf, materialOf, type PlanInput } from './plan-input.js';

/** A pass of the work, and what holds the piece that it cuts round. */
export interface HeldMoment {
  readonly item: string;
  readonly feature: string;
  /** Depth of the pass below the sheet's top, mm. */
  readonly depth: number;
  /** What is left under the pass is the skin; under the last there are only tabs, and vacuum. */
  readonly by: 'skin' | 'tabs';
  readonly tabs: number;
  readonly check: HoldCheck;
}

/** Shear strength of what is left under a pass is reckoned like that of tabs: as a tab of the contour's length. */
const skinOf = (perimeter: number, left: number) => ({ width: perimeter, height: left });

/** A lower bound of a contour's length from the area that it encloses: a circle's. mm */
const leastPerimeter = (area: number): number => 2 * Math.sqrt(Math.PI * area);

const openArea = ({ through, holes }: Part): number =>
  through.reduce((sum, t) => sum + ringArea(t.bare), 0) +
  holes.reduce((sum, h) => sum + (h.depth === 'through' ? (Math.PI * h.diameter ** 2) / 4 : 0), 0);

/** What vacuum sucks at: the piece without its openings, or without the parts that lie in it. mm² */
function bedArea(o: Operation, { items, holding }: PlanInput): number {
  const own = items.find((p) => p.item === o.item)?.part;
  const areas = holding.vacuum?.areas;
  if (areas !== undefined) {
    const outside = o.kind === 'outside profile';
    const piece = outside ? own?.outline : own?.through.find((t) => t.id === o.feature);
    const gone = outside
      ? (own?.through ?? [])
      : items.filter((p) => o.encloses.includes(p.item)).map((p) => p.part.outline);
    const sucked = (c: Contour): number => areaOver(c.bare, areas);
    return piece === undefined
      ? 0
      : Math.max(
          0,
          gone.reduce((left, c) => left - sucked(c), sucked(piece)),
        );
  }
  if (o.kind === 'outside profile') return Math.max(0, o.area - (own === undefined ? 0 : openArea(own)));
  const within = items.filter((p) => o.encloses.includes(p.item));
  return Math.max(
    0,
    within.reduce((left, p) => left - ringArea(p.part.outline.bare), o.area),
  );
}

/** Screws through a piece that falls out of an opening; through a part there are none, as their heads are keep-outs. */
function screwsIn(o: Operation, { board, items }: PlanInput): number {
  if (o.kind === 'outside profile' || o.slug !== 'held') return 0;
  const opening = items.find((p) => p.item === o.item)?.part.through.find((t) => t.id === o.feature);
  if (opening === undefined) return 0;
  return (board.screws ?? []).filter(({ at }) => pointInRing(opening.bare, at) === 'inside').length;
}

/**
 * Every pass round a piece that stays, in the order of work: what holds the piece when the pass is done, against the peak force of
 * that pass in a full kerf of its sheet, the high end of the table. Until the last pass all of the kerf's floor holds it, after it its tabs and the
 * vacuum under it. Pieces that are cut to chips, and cuts that leave none, hold nothing.
 */
export function holdingMoments(operations: readonly Operation[], input: PlanInput): HeldMoment[] {
  const { board, machine, holding } = input;
  const shear = holding.tabStrength;
  const { pressure = 0, friction = BED_FRICTION } = holding.vacuum ?? {};
  const energy = hardestOf(input);
  return operations.flatMap((o) => {
    const stays = !o.frees && (o.kind === 'outside profile' || o.kind === 'trimming' || o.slug === 'held');
    if (!stays) return [];
    const area = bedArea(o, input);
    const screws = screwsIn(o, input);
    const weight = plateWeight(o.area, board.thickness);
    const passes = passThicknesses(o.depths);
    const moment = (depth: number, force: number): HeldMoment => {
      const left = board.thickness - depth;
      const tabs: readonly Pick<Tab, 'width' | 'height'>[] =
        left > 0 ? [...o.tabs, skinOf(leastPerimeter(o.area), left)] : o.tabs;
      const check = checkHold(
        {
          tabs,
          area,
          pressure,
          friction,
          weight,
          screws,
          ...(shear === undefined ? {} : { shear }),
          ...(holding.screwStrength === undefined ? {} : { screwStrength: holding.screwStrength }),
        },
        force,
      );
      return {
        item: o.item,
        feature: o.feature,
        depth,
        by: left > 0 ? 'skin' : 'tabs',
        tabs: o.tabs.length,
        check,
      };
    };
    const moments = o.depths.map((depth, i) =>
      moment(depth, passForce(o.cutter, machine, passes[i]!, energy).peak),
    );
    if (o.finish === undefined) return moments;
    const deepest = o.depths.at(-1)!;
    const { peak } = finishForce(
      o.cutter,
      machine,
      { stock: o.finish.stock, depth: Math.min(deepest, board.thickness) },
      energy,
    );
    return [...moments, moment(deepest, peak)];
  });
}

/**
 * Pieces that would not be held at some moment of the work: refused where what holds them is less than the force and their weight
 * by strengths that the shop has declared, warned of where the strengths are assumed, or where it is less than twice that.
 */
export function checkHolding(operations: readonly Operation[], input: PlanInput): Diagnostic[] {
  const worst = new Map<string, HeldMoment>();
  for (const m of holdingMoments(operations, input)) {
    const key = `${m.item} ${m.feature}`;
    const before = worst.get(key);
    if (before === undefined || m.check.margin < before.check.margin) worst.set(key, m);
  }
  const { tabWidth, tabHeight, tabStrength } = input.holding;
  const one = tabCapacity(tabWidth, tabHeight, tabStrength);
  return [...worst.values()].flatMap(({ item, feature, check, tabs }): Diagnostic[] => {
    if (check.holds) return [];
    const w = { item, feature, board: input.board.id };
    // A margin of one half is holding as strong as the force: the safety of two is used up.
    return check.margin < 0.5
      ? [wouldComeLoose(w, check, tabs, one, tabStrength === undefined)]
      : [weakHolding(w, check.holding, check.force, tabs)];
  });
}

/**
 * Pieces whose skin is cut with too little to hold them in the end: what cuts the last of the skin against vacuum alone. Until then the
 * rest of the skin holds.
 */
export function checkFreeing(operations: readonly Operation[], input: PlanInput): Diagnostic[] {
  const { board, machine, holding } = input;
  if (holding.skin === undefined) return [];
  const { pressure = 0, friction = BED_FRICTION } = holding.vacuum ?? {};
  return operations.flatMap((o): Diagnostic[] => {
    if (!o.frees) return [];
    const { peak } = passForce(o.cutter, machine, holding.skin!.thickness, hardestOf(input));
    const check = checkHold({ tabs: [], area: bedArea(o, input), pressure, friction }, peak);
    if (check.holds) return [];
    return [
      freedUnheld({ item: o.item, feature: o.feature, board: board.id }, holding.skin!.thickness, check),
    ];
  });
}

/**
 * A sheet that screws and vacuum, where the job has any, hold with less than twice the force of the cutter at some moment: what is freed
 * goes from the sheet's area, and screws in it from its screws. Nothing is said where neither is declared: clamps are unknown here.
 */
export function checkSheet(operations: readonly Operation[], input: PlanInput): Diagnostic[] {
  const { board, items, machine, holding } = input;
  const { pressure = 0, friction = BED_FRICTION, areas } = holding.vacuum ?? {};
  const screws = board.screws ?? [];
  if (screws.length === 0 && holding.vacuum === undefined) return [];
  const over = (ring: Contour['bare']): number =>
    holding.vacuum === undefined ? 0 : areas === undefined ? ringArea(ring) : areaOver(ring, areas);
  const energy = hardestOf(input);
  let area = over(board.outline);
  let left = screws.length;
  let worst: { readonly o: Operation; readonly check: HoldCheck; readonly screws: number } | undefined;
  for (const o of operations) {
    if (o.cutter.kind === 'router') {
      const { peak } = passForce(o.cutter, machine, Math.max(...passThicknesses(o.depths)), energy);
      const { screwStrength } = holding;
      const check = checkHold(
        {
          tabs: [],
          area,
          pressure,
          friction,
          screws: left,
          ...(screwStrength === undefined ? {} : { screwStrength }),
        },
        peak,
      );
      if (worst === undefined || check.margin < worst.check.margin) worst = { o, check, screws: left };
    }
    const piece =
      o.kind === 'outside profile' ? items.find((p) => p.item === o.item)?.part.outline.bare : undefined;
    if (piece !== undefined && (o.frees || o.freeing === undefined)) area = Math.max(0, area - over(piece));
    left -= screwsIn(o, input);
  }
  if (worst === undefined || worst.check.holds) return [];
  const { o, check } = worst;
  const w = { item: o.item, feature: o.feature, board: board.id };
  return [sheetWeaklyHeld(w, check, worst.screws, holding.vacuum !== undefined, materialOf(input))];
}
