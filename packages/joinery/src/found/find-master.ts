import {
  type Diagnostic,
  type FoundRecord,
  fail,
  type Master,
  type MasterPart,
  type Outcome,
  ok,
  type Part,
} from '@haunch/model';
import type { DryRun } from '../dryfit/dry-run.js';
import { partsOfMaster } from '../parts-of-master.js';
import { checkFound } from './check-found.js';
import { type ClosedGaps, closedGaps } from './closed-gaps.js';
import {
  badLean,
  clearanceDrawn,
  leanUnmarked,
  noSuchPart,
  nothingMeets,
  reliefsDrawn,
  thicknessFits,
  thicknessMissing,
} from './diagnostics.js';
import { foundRecord } from './found-record.js';
import { handFollows, handProblems } from './hand-follows.js';
import type { Hold } from './holds.js';
import { joinedMates, pairsOf } from './joined-mates.js';
import { markedMaster } from './marked-master.js';
import { askHolds, askHoles, askLoose, askPieces, askTurns, askUp } from './part-questions.js';
import { Asked, type MasterQuestion } from './questions.js';
import { searchedParts } from './searched-parts.js';
import { laidBeside, setUp } from './standing.js';
import { thicknessDoubt } from './thickness-doubt.js';
import { boxRound } from './world.js';

/** What is known beforehand about parts of which a master is to be found. */
export interface FindMasterOptions {
  /** The file in which the parts were drawn, for the record. */
  readonly from: string;
  /** The master's title; the file if nothing is said. */
  readonly title?: string;
  /** Answers to questions of an earlier run, by question: the number of the choice, from 1. */
  readonly answers?: Readonly<Record<string, number>>;
  /** What edges follow, as a person says: shares of parts' thicknesses, by edge; none where the edge stays. */
  readonly follows?: FoundRecord['follows'];
  /** The angles, degrees up to 90, at which parts pass through others, by part, where clearance in the slots hides them. */
  readonly leans?: Readonly<Record<string, number>>;
  /** What stays of a plate when its thickness changes, where that is known already. */
  readonly holds?: ReadonlyMap<string, Hold>;
  /** The clearance that was taken out in an earlier run, for the record. */
  readonly clearance?: readonly [number, number];
  /** Whether to put the master together dry and refit it, to name its faults and list its steps; true when left out. */
  readonly check?: boolean;
}

/** A master as it was found, or the questions that stand before it. Plain data. */
export interface FoundMaster {
  readonly kind: 'found master';
  /** Null while a question has no answer of which there must be one. */
  readonly master: Master | null;
  /** What nobody has answered, in the order of asking; `taken` says what was taken for want of an answer. */
  readonly questions: readonly MasterQuestion[];
  /** Why there is no master: one error for each question that must be answered first. */
  readonly unanswered: readonly Diagnostic[];
}

const rangeOf = (closed: ClosedGaps['closed']): [number, number] | undefined =>
  closed.length === 0
    ? undefined
    : ([Math.min(...closed.map((c) => c.from)), Math.max(...closed.map((c) => c.to))].map(
        (v) => +v.toFixed(4),
      ) as [number, number]);

/** The parts that stand in no piece. */
function without(parts: readonly Part[], standing: readonly MasterPart[]): string[] {
  const there = new Set(standing.map((p) => p.id));
  return parts.map((p) => p.id).filter((id) => !there.has(id));
}

/** What is wrong with angles at which parts are said to lean. */
const leanProblems = (leans: Readonly<Record<string, number>>, ids: readonly string[]): Diagnostic[] =>
  Object.entries(leans).flatMap(([id, angle]) =>
    !ids.includes(id)
      ? [noSuchPart(id, `leans.${id}`, ids)]
      : angle > 0 && angle <= 90
        ? []
        : [badLean(id, angle)],
  );

/** The thickness that most parts have; of several, the greatest. */
function usualThickness(parts: readonly MasterPart[]): number {
  const count = new Map<number, number>();
  for (const p of parts) count.set(p.thickness, (count.get(p.thickness) ?? 0) + 1);
  return [...count].sort((a, b) => b[1] - a[1] || b[0] - a[0])[0]![0];
}

/**
 * Finds a whole master from flat parts alone: which part goes into which, where each stands, which edges follow whose
 * thickness and why. Clearance and reliefs that are drawn are taken out, since a job gives its own. mm; the piece
 * stands in a right-handed world, X along its greatest extent, Z up, its box beginning at the origin. What the parts do
 * not decide is asked with numbered choices: without an answer there is either no master (which way a piece goes
 * together, where a loose part belongs, which of two parts alike but for their holes stands where) or the usual choice
 * is taken and named (what of a plate stays, which of two faces an edge follows). The answers and hand-made follows are
 * kept in the master's `found` record with the reason of each mark. Guarantees: pure; same parts and answers, same
 * master; the master found again from its own parts and record (`findMasterAgain`) is the same. Refused by name: parts without a thickness,
 * parts of which no two meet, a thickness that nothing in them is drawn for, answers to questions that are not asked, follows that name no edge or part.
 */
export function findMaster(
  drawn: readonly Part[],
  options: FindMasterOptions,
  run?: DryRun,
): Outcome<FoundMaster> {
  const unknown = drawn.filter((p) => p.thickness === null);
  if (unknown.length > 0) return fail(...unknown.map((p) => thicknessMissing(p.id)));
  const leans = options.leans ?? {};
  const wrong = leanProblems(
    leans,
    drawn.map((p) => p.id),
  );
  if (wrong.length > 0) return fail(...wrong);
  const said: Diagnostic[] = [];
  const { parts, flat: searched, reliefs, mates } = searchedParts(drawn, leans, run);
  if (reliefs > 0) said.push(reliefsDrawn(reliefs));
  if (!mates.ok) return mates;
  const doubt = thicknessDoubt(parts);
  if (mates.value.mates.length === 0)
    return fail(
      doubt ? thicknessFits('error', doubt.given, doubt.rather) : nothingMeets(parts.length),
      ...mates.diagnostics,
    );
  if (doubt) {
    // Ways of parts that fit nothing are chance, and not worth asking about; slots for plates that lean are wider than those.
    const lean = mates.diagnostics.some((d) => d.code === 'mates/leans');
    if (mates.value.questions.length > 0 && !lean)
      return fail(thicknessFits('error', doubt.given, doubt.rather), ...said);
    if (doubt.bySteps || !lean) said.push(thicknessFits('warning', doubt.given, doubt.rather));
  }
  const asked = new Asked(options.answers ?? {});
  const chosen = askPieces(parts, mates.value, asked, searched);
  const open = (): Outcome<FoundMaster> | null => {
    if (asked.refused.length > 0) return fail(...asked.refused, ...said);
    const unanswered = asked.blocking;
    if (unanswered.length === 0) return null;
    const strays = asked.straysAmong(parts.map((p) => p.id));
    if (strays.length > 0) return fail(...strays, ...said);
    return ok({ kind: 'found master', master: null, questions: asked.open, unanswered }, said);
  };
  // The questions are said as such, and parts without a joint get a place or a question below.
  said.push(
    ...mates.diagnostics.filter((d) => d.code !== 'mates/ambiguous' && d.code !== 'mates/fits-nothing'),
  );
  const undecided = open();
  if (undecided) return undecided;
  const flat = chosen.flatMap((c) => c.parts);
  const meetings = chosen.flatMap((c) => c.mates);
  const pairs = pairsOf(meetings, flat);
  const gaps = closedGaps(
    flat,
    pairs.map((p) => p.at),
  );
  const drawnClearance = rangeOf(gaps.closed);
  if (drawnClearance) said.push(clearanceDrawn(...drawnClearance, gaps.closed.length));
  const clearance = drawnClearance ?? options.clearance;
  let next = 0;
  const pieces = chosen.map((c) => {
    next += c.parts.length;
    return gaps.parts.slice(next - c.parts.length, next);
  });
  const twinned = askHoles(
    parts,
    setUp(pieces, (piece, n) => ({ up: askUp(piece, n, asked) })).flat(),
    asked,
    said,
  );
  const standing = askTurns(parts, twinned, asked);
  // Where a loose part may lie is told by its neighbours' names, which twins may still exchange.
  const untwinned = open();
  if (untwinned) return untwinned;
  const loose = askLoose(parts, without(parts, standing), standing, asked, said);
  const unplaced = open();
  if (unplaced) return unplaced;
  const whole = [...standing, ...loose.placed];
  const held = askHolds(whole, options.holds, asked);
  const all = [...held, ...laidBeside(whole, loose.beside)];
  const { mates: joints, certainty } = joinedMates(all, pairsOf(meetings, all), said);
  const { low, high } = boxRound(all);
  const drawing: Master = {
    format: 'haunch-master',
    version: 1,
    title: options.title ?? options.from,
    units: 'mm',
    designThickness: usualThickness(all),
    envelope: [0, 1, 2].map((k) => +(high[k]! - low[k]!).toFixed(4)) as [number, number, number],
    marks: [],
    parts: all,
    mates: joints,
    assembly: [],
  };
  const follows = options.follows ?? {};
  const strange = handProblems(drawing, follows);
  if (strange.length > 0) return fail(...strange, ...said);
  const marks = markedMaster(drawing, follows, options.answers ?? {}, asked);
  said.push(...marks.said);
  for (const { part, edges } of marks.left) said.push(leanUnmarked(part, edges));
  const problems = [...asked.refused, ...asked.strays];
  if (problems.length > 0) return fail(...problems, ...said);
  const master: Master = {
    ...marks.master,
    found: foundRecord(marks, {
      from: options.from,
      ...(clearance ? { clearance: [...clearance] as [number, number] } : {}),
      answers: asked.answers,
      follows,
      ...(Object.keys(leans).length > 0 ? { leans } : {}),
      certainty,
    }),
  };
  const checked = options.check === false ? { master, said: [] } : checkFound(master, run);
  return ok({ kind: 'found master', master: checked.master, questions: asked.open, unanswered: [] }, [
    ...said,
    ...checked.said,
  ]);
}

/**
 * A found master found again from its own parts: with the answers, the holds, the clearance and the hand-made follows
 * that it keeps, and with the marks that a person has changed in it since. New `answers` and `follows` go before those
 * kept. A master without a record is taken as flat parts whose holds are known.
 */
export function findMasterAgain(
  master: Master,
  options: FindMasterOptions,
  run?: DryRun,
): Outcome<FoundMaster> {
  const { found } = master;
  return findMaster(
    partsOfMaster(master),
    {
      holds: new Map(master.parts.map((p) => [p.id, p.hold])),
      ...(found?.clearance ? { clearance: found.clearance } : {}),
      title: master.title,
      ...options,
      answers: { ...found?.answers, ...options.answers },
      follows: { ...handFollows(master), ...options.follows },
      leans: { ...found?.leans, ...options.leans },
    },
    run,
  );
}
