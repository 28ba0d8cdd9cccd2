import type { AssemblyStep, Diagnostic } from '@haunch/model';
import {
  bothSides,
  jointLeftOpen,
  leftApart,
  neverPlaced,
  nothingStands,
  notYetPlaced,
  placedTwice,
} from './diagnostics.js';
import type { StandingPiece } from './dry-piece.js';

/** A step that makes sense in its list, and all that stands there when it is done: whole sub-assemblies. */
export interface SensibleStep {
  readonly step: AssemblyStep;
  readonly standing: readonly string[];
}

/** What hangs together at some time of the assembly: its parts, and the step that joined the last of them. */
interface Cluster {
  readonly parts: readonly string[];
  readonly since: number;
}

const repeated = (ids: readonly string[]): string[] => [
  ...new Set(ids.filter((x, i) => ids.indexOf(x) !== i)),
];

/**
 * Follows a list of steps from loose parts to the whole piece and says what in it cannot be meant. A part that no step
 * has named yet may be what a new sub-assembly stands on; several may, if the step's own parts join them and nothing
 * else does. A sub-assembly moves whole or not at all. A piece without steps has nothing to follow.
 */
export function followSteps({ solids, mates, assembly }: StandingPiece): {
  readonly sensible: readonly SensibleStep[];
  readonly problems: readonly Diagnostic[];
} {
  if (assembly.length === 0) return { sensible: [], problems: [] };
  const clusters = new Map<string, Cluster>();
  const closed = new Set<string>();
  const sensible: SensibleStep[] = [];
  const problems: Diagnostic[] = [];
  const clusterOf = (id: string): Cluster => clusters.get(id) ?? { parts: [id], since: 0 };
  const mated = (a: readonly string[], b: readonly string[]): boolean =>
    mates.some(
      (m) =>
        (a.includes(m.slotPart) && b.includes(m.enteringPart)) ||
        (b.includes(m.slotPart) && a.includes(m.enteringPart)),
    );
  /** The step after this place in the list that moves a part. */
  const later = (index: number, id: string): number | null =>
    assembly.slice(index + 1).find((s) => s.moving.includes(id))?.step ?? null;

  const sides = ({ step, fixed, moving }: AssemblyStep): Diagnostic[] => [
    ...moving
      .filter((id, i) => fixed.includes(id) && moving.indexOf(id) === i)
      .map((id) => bothSides(step, id)),
    ...repeated(moving).map((id) => placedTwice(step, id, step, [])),
  ];

  const ground = ({ step, fixed, moving }: AssemblyStep, index: number): Diagnostic[] => {
    const apart = [...new Map(fixed.map((id) => [clusterOf(id).parts[0]!, clusterOf(id).parts])).values()];
    if (apart.length === 0) {
      const [first] = moving;
      return first !== undefined && moving.some((id) => !clusterOf(first).parts.includes(id))
        ? [nothingStands(step, first)]
        : [];
    }
    const fresh = fixed.filter((id) => !clusters.has(id));
    if (fresh.length < fixed.length && fresh.length > 0)
      return fresh.map((id) => notYetPlaced(step, id, later(index, id)));
    if (apart.length === 1) return [];
    const stray = (parts: readonly string[]): boolean =>
      !mated(parts, moving) || apart.some((other) => other !== parts && mated(parts, other));
    const strays = apart.filter(stray).map((parts) => fixed.find((id) => parts.includes(id))!);
    // Of several that ought to have been put together before, the one that is named as coming later is the cause.
    const cause = strays.find((id) => later(index, id) !== null) ?? strays.at(-1);
    return cause === undefined ? [] : [notYetPlaced(step, cause, later(index, cause))];
  };

  const torn = ({ step, moving }: AssemblyStep): Diagnostic[] => {
    const seen = new Set<string>();
    return moving.flatMap((id) => {
      const { parts, since } = clusterOf(id);
      const left = parts.filter((p) => !moving.includes(p));
      if (left.length === 0 || seen.has(parts[0]!)) return [];
      seen.add(parts[0]!);
      return [placedTwice(step, id, since, left)];
    });
  };

  assembly.forEach((step, index) => {
    const twisted = sides(step);
    const said = twisted.length > 0 ? twisted : [...ground(step, index), ...torn(step)];
    const standing = [...new Set(step.fixed.flatMap((id) => clusterOf(id).parts))];
    if (said.length === 0) sensible.push({ step, standing });
    problems.push(...said);
    for (const m of mates)
      if (
        (standing.includes(m.slotPart) && step.moving.includes(m.enteringPart)) ||
        (standing.includes(m.enteringPart) && step.moving.includes(m.slotPart))
      )
        closed.add(m.id);
    const joined = {
      parts: [...new Set([...standing, ...step.moving.flatMap((id) => clusterOf(id).parts)])],
      since: step.step,
    };
    for (const id of joined.parts) clusters.set(id, joined);
  });

  const never = solids.filter((s) => !clusters.has(s.id)).map((s) => neverPlaced(s.id));
  if (problems.length + never.length > 0) return { sensible, problems: [...problems, ...never] };
  const ends = [...new Set(clusters.values())].sort((a, b) => b.parts.length - a.parts.length);
  if (ends.length > 1)
    return { sensible, problems: ends.slice(1).map((c) => leftApart(c.parts, ends[0]!.parts[0]!)) };
  const open = mates.filter((m) => !closed.has(m.id));
  return { sensible, problems: open.map((m) => jointLeftOpen(m.id, m.slotPart, m.enteringPart)) };
}
