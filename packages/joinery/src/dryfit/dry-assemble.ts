import { type Diagnostic, fail, type Master, type Outcome, settle } from '@haunch/model';
import { axisVector } from '../frame.js';
import { followSteps, type SensibleStep } from './assembly-list.js';
import { type AssemblyPlan, planAssembly } from './assembly-order.js';
import { meetingOf, overlapsAlong } from './course.js';
import { stepBlocked, stopped, unjoined } from './diagnostics.js';
import { back, directionName, unitVector } from './direction.js';
import { type DryPiece, type StandingPiece, standPiece } from './dry-piece.js';
import type { DryRun } from './dry-run.js';
import { SKIN } from './dryfit-tolerance.js';
import { holesInWrongFace } from './holes-away.js';
import type { JointClearance } from './judge-joint.js';
import { type Finding, judgePair, type PairInterference } from './judge-piece.js';
import { boxesApart, pairOf } from './pair.js';
import { explain } from './suspect.js';
import { standsIn } from './unjoined.js';

/** What `dryAssemble` may be told. */
export interface DryOptions {
  /**
   * The most that a located wall may stand off, mm: 0 for outlines as wanted, the widest clearance for parts as cut.
   */
  readonly play?: number;
  /** Whether to look for an order of assembly too; true when left out. */
  readonly order?: boolean;
}

/** A step that the piece lists, tried by sweeping its parts home. */
export interface TriedStep {
  readonly step: number;
  readonly moving: readonly string[];
  readonly direction: string;
  readonly travel: number;
}

/** A piece put together in numbers. Plain data. */
export interface DryAssembly {
  readonly kind: 'dry-assembly';
  /** mm³ in common, each pair that has any, and the sum. */
  readonly interference: { readonly total: number; readonly pairs: readonly PairInterference[] };
  /** One entry for each joint, in the piece's order. */
  readonly joints: readonly JointClearance[];
  /** The piece's own steps, all of which can be done. */
  readonly steps: readonly TriedStep[];
  /** An order found from the geometry alone; null when it was not asked for. */
  readonly plan: AssemblyPlan | null;
}

const FREE: DryRun = { tick: () => true };

function tryStep({ step, standing }: SensibleStep, piece: StandingPiece): Diagnostic[] {
  const out = back(unitVector(axisVector(step.move)));
  const problems: Diagnostic[] = [];
  const of = (ids: readonly string[]) => piece.solids.filter((s) => ids.includes(s.id));
  for (const mover of of(step.moving))
    for (const other of of(standing)) {
      const met = overlapsAlong(meetingOf(pairOf(mover, other)), out, 0).find((t) => t[0] < step.travel);
      if (met)
        problems.push(
          stepBlocked(
            step.step,
            mover.id,
            directionName(unitVector(axisVector(step.move))),
            other.id,
            Math.max(0, met[0] - SKIN),
          ),
        );
    }
  return problems;
}

/** Plates that stand in cuts of others without a joint that says so, which a piece without any joints is not asked for. */
function unjoinedPairs({ solids, mates }: StandingPiece, play: number): Diagnostic[] {
  const joined = new Set(
    mates.flatMap((m) => [`${m.slotPart} ${m.enteringPart}`, `${m.enteringPart} ${m.slotPart}`]),
  );
  return solids.flatMap((a, i) =>
    solids
      .slice(i + 1)
      .filter((b) => !joined.has(`${a.id} ${b.id}`) && !boxesApart(a, b, SKIN))
      .flatMap((b) => standsIn(a, b, play).map((s) => unjoined(s.part, s.cutPart, s.feature))),
  );
}

/**
 * Puts a piece together in numbers, before anything is cut. Checks frames for their hand, the exact common volume of
 * all pairs, every joint at each of its places alone (what is to hold must hold, what is to go in must go in), and the
 * listed steps by following them from loose parts to the whole and sweeping their parts home past all that stands there
 * by then; looks for an order from the geometry alone. Takes a master as drawn, or
 * parts with frames (`dryPieceOf` gives a master's parts as cut). mm and mm³ in the world of the frames.
 * Guarantees: surfaces in contact (within 0.001 mm) have no common volume; a refusal names the part and the joint; the
 * same input gives the same result; the result is plain data. Stops with `dryfit/stopped` when `tick` answers false.
 */
export function dryAssemble(
  from: Master | DryPiece,
  { play = 0, order = true }: DryOptions = {},
  run: DryRun = FREE,
): Outcome<DryAssembly> {
  if (!(play >= 0)) throw new RangeError(`dryAssemble: play is ${play}`);
  const { piece, problems } = standPiece(from);
  if (!piece) return fail(...problems);
  const pairs: PairInterference[] = [];
  const joints: JointClearance[] = [];
  const findings: Finding[] = [];
  for (let i = 0; i < piece.solids.length; i++)
    for (let k = i + 1; k < piece.solids.length; k++) {
      if (!run.tick()) return fail(stopped());
      const a = piece.solids[i]!;
      const b = piece.solids[k]!;
      const judged = judgePair(piece, a, b, play);
      if (judged.volume > 0) pairs.push({ parts: [a.id, b.id], volume: judged.volume });
      joints.push(...judged.joints);
      findings.push(...judged.problems.map((problem): Finding => ({ parts: [a.id, b.id], problem })));
    }
  if (findings.length > 0) {
    const said = explain(piece, findings, play, () => run.tick());
    return fail(...(said.length > 0 ? said : findings.map((f) => f.problem)));
  }
  const said: Diagnostic[] = [];
  said.push(...holesInWrongFace(piece.solids));
  if (piece.mates.length > 0) said.push(...unjoinedPairs(piece, play));
  const { sensible, problems: muddled } = followSteps(piece);
  said.push(...muddled);
  for (const step of sensible) {
    if (!run.tick()) return fail(stopped());
    said.push(...tryStep(step, piece));
  }
  let plan: AssemblyPlan | null = null;
  if (order) {
    const planned = planAssembly(piece, run);
    said.push(...planned.diagnostics);
    if (planned.ok) plan = planned.value;
  }
  const places = new Map(piece.mates.map((m, i) => [m.id, i]));
  return settle(
    {
      kind: 'dry-assembly',
      interference: { total: pairs.reduce((sum, p) => sum + p.volume, 0), pairs },
      joints: [...joints].sort((a, b) => places.get(a.joint)! - places.get(b.joint)!),
      steps: piece.assembly.map((s) => ({
        step: s.step,
        moving: s.moving,
        direction: directionName(unitVector(axisVector(s.move))),
        travel: s.travel,
      })),
      plan,
    },
    said,
  );
}
