import type { Cutter, Diagnostic } from '@haunch/model';
import * as say from '../diagnostics.js';
import { cutterDeflection, depthDerating } from '../forces/cutting-force.js';
import { finishForce, passForce, passThicknesses } from '../forces/pass-force.js';
import type { Operation } from '../operation.js';
import { materialOf, type PlanInput } from '../plan-input.js';
import { speedsOf } from '../speeds.js';
import { chipLoadBand, FEED_TABLES } from './feed-tables.js';

interface DeepestPass {
  readonly cutter: Cutter;
  readonly pass: number;
  readonly operation: Operation;
}

/** The thickest pass of each router, in the order of work. */
function deepestPasses(operations: readonly Operation[]): DeepestPass[] {
  const found = new Map<string, DeepestPass>();
  for (const o of operations) {
    if (o.cutter.kind !== 'router') continue;
    // A helix names its whole depth as one pass, and never cuts deeper at once than the cutter may.
    const pass = Math.min(o.cutter.depthPerPass, Math.max(...passThicknesses(o.depths)));
    const before = found.get(o.cutter.id);
    if (before === undefined || pass > before.pass)
      found.set(o.cutter.id, { cutter: o.cutter, pass, operation: o });
  }
  return [...found.values()];
}

/** Speeds and feeds that are asked for and the machine has not got, once for each cutter, routers and drills. */
function beyondMachine(
  operations: readonly Operation[],
  { board, machine, feedsFromTable }: PlanInput,
): Diagnostic[] {
  const seen = new Set<string>();
  return operations.flatMap(({ cutter, item, feature }): Diagnostic[] => {
    if (seen.has(cutter.id)) return [];
    seen.add(cutter.id);
    const w = { item, feature, board: board.id };
    const { cut, rpm } = speedsOf(cutter, machine);
    if (cutter.rpm > machine.maxRpm)
      return [say.rpmBeyondMachine(w, cutter.id, cutter.rpm, machine.maxRpm, cut)];
    const asked =
      !feedsFromTable?.has(cutter.id) && cutter.flutes * cutter.chipLoad * rpm > machine.maxFeed * 1.005;
    return asked ? [say.feedBeyondMachine(w, cutter, rpm, machine.maxFeed)] : [];
  });
}

/**
 * What is wrong or doubtful about the speeds of each router at its deepest pass in a full kerf, once for each cutter: a feed or a speed
 * that is asked for and the machine has not got is refused, one that a table gives is held to the machine's; chips thinner or thicker than the table says for its diameter and depth, power, and bend.
 */
export function checkFeeds(operations: readonly Operation[], input: PlanInput): Diagnostic[] {
  const { machine, board, tables = FEED_TABLES } = input;
  const material = materialOf(input);
  const passes = deepestPasses(operations).flatMap(({ cutter, pass, operation }) => {
    const out: Diagnostic[] = [];
    const w = { item: operation.item, feature: operation.feature, board: board.id };
    const { cut, rpm } = speedsOf(cutter, machine);
    const wanted = cutter.flutes * cutter.chipLoad * rpm;
    const chip = cut / (cutter.flutes * rpm);
    if (input.feedsFromTable?.has(cutter.id) && wanted > machine.maxFeed * 1.005)
      out.push(say.feedLimited(w, cutter.id, wanted, machine.maxFeed, chip));
    const [least, most] = chipLoadBand(tables, material, cutter.diameter);
    const [low, high] = [least * tables.lightest, most * depthDerating(pass, cutter.diameter)];
    if (chip < low) out.push(say.chipTooThin(w, cutter.id, chip, low));
    if (chip > high * 1.005) out.push(say.chipTooThick(w, cutter.id, chip, high, pass));
    const force = passForce(cutter, machine, pass, tables.energy[material][2]);
    if (machine.power !== undefined && force.power > machine.power)
      out.push(say.tooMuchPower(w, cutter.id, force.power, machine.power, pass));
    const bend = cutterDeflection(force.peak, cutter.diameter * tables.core, cutter.fluteLength);
    if (bend > tables.deflection)
      out.push(say.cutterBends(w, cutter.id, bend, tables.deflection, force.peak, cutter.fluteLength));
    return out;
  });
  return [...beyondMachine(operations, input), ...passes, ...checkFinishes(operations, input)];
}

/** What is doubtful about finishing passes, once for each cutter at its deepest: the wall that they make is off by the bend. */
function checkFinishes(operations: readonly Operation[], input: PlanInput): Diagnostic[] {
  const { machine, board, tables = FEED_TABLES } = input;
  const deepest = new Map<string, Operation>();
  for (const o of operations) {
    const before = deepest.get(o.cutter.id);
    if (o.finish !== undefined && (before === undefined || o.depths.at(-1)! > before.depths.at(-1)!))
      deepest.set(o.cutter.id, o);
  }
  return [...deepest.values()].flatMap(({ cutter, depths, finish, item, feature }): Diagnostic[] => {
    const depth = Math.min(depths.at(-1)!, board.thickness);
    const energy = tables.energy[materialOf(input)][2];
    const { peak } = finishForce(cutter, machine, { stock: finish!.stock, depth }, energy);
    const bend = cutterDeflection(peak, cutter.diameter * tables.core, cutter.fluteLength);
    if (bend <= tables.deflection) return [];
    const w = { item, feature, board: board.id };
    return [say.finishBends(w, cutter.id, bend, tables.deflection, peak, finish!.stock)];
  });
}
