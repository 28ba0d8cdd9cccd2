import { snap } from '@haunch/geometry';
import { type Diagnostic, fail, type Locus, type Outcome, ok } from '@haunch/model';
import {
  answeredTwice,
  answersContradict,
  axesDisagree,
  fewAnswers,
  ladderTooNarrow,
  ladderTooWide,
  noAnswers,
  unknownRung,
} from '../ladder-diagnostics.js';
import { FELT, type Felt, type FeltAnswer } from './felt.js';
import type { Rung } from './rungs.js';

/** Where one way of feeling gives over to the next: somewhere above `from` and not above `to`; null where the answers do not say. mm of clearance as the program has it. */
export interface Threshold {
  readonly from: number | null;
  readonly to: number | null;
}

/** What a ladder says: the clearance to program for each family of fits, and where it feels different. mm. */
export interface LadderReading {
  readonly kind: 'ladder-reading';
  readonly drive: number;
  readonly snug: number;
  readonly slip: number;
  /** From won't enter to mallet, from mallet to hand, from hand to rattling. */
  readonly thresholds: { readonly mallet: Threshold; readonly hand: Threshold; readonly rattle: Threshold };
  /** Standard uncertainty of the snug clearance: the threshold lies anywhere between two rungs. */
  readonly u: number;
  /** Standard uncertainties of drive and slip: where such fits begin and end, or two steps about what is only assumed. */
  readonly driveU: number;
  readonly slipU: number;
}

interface Answered {
  readonly rung: Rung;
  readonly felt: Felt;
  readonly rank: number;
}

/** Between the widest rung felt tighter than this rank and the tightest felt so or looser. */
function thresholdAt(answers: readonly Answered[], rank: number): Threshold {
  const below = answers.filter((a) => a.rank < rank).map((a) => a.rung.clearance);
  const above = answers.filter((a) => a.rank >= rank).map((a) => a.rung.clearance);
  return {
    from: below.length > 0 ? Math.max(...below) : null,
    to: above.length > 0 ? Math.min(...above) : null,
  };
}

/** Rungs that were answered in two ways. */
function twice(answers: readonly Answered[], locus: Locus): Diagnostic[] {
  const felt = new Map<string, Set<Felt>>();
  for (const a of answers) felt.set(a.rung.id, (felt.get(a.rung.id) ?? new Set()).add(a.felt));
  return [...felt].flatMap(([rung, said]) => (said.size > 1 ? [answeredTwice(rung, [...said], locus)] : []));
}

/** Answers that cannot all be true: a wider rung that felt tighter. */
function contradictions(answers: readonly Answered[], locus: Locus): Diagnostic[] {
  const found: Diagnostic[] = twice(answers, locus);
  for (const axis of ['x', 'y'] as const) {
    const row = answers
      .filter((a) => a.rung.axis === axis)
      .sort((a, b) => a.rung.clearance - b.rung.clearance);
    row.forEach((a, i) => {
      const tighter = row.find((b, j) => j > i && b.rank < a.rank && b.rung.clearance > a.rung.clearance);
      if (tighter) found.push(answersContradict(a.rung.id, a.felt, tighter.rung.id, tighter.felt, locus));
    });
  }
  return found;
}

/** Rungs of both axes lie apart by more than one step where they should feel alike. */
function axisProblems(answers: readonly Answered[], step: number, locus: Locus): Diagnostic[] {
  const found: Diagnostic[] = [];
  const by = (axis: 'x' | 'y') => answers.filter((a) => a.rung.axis === axis);
  for (const rank of [1, 2, 3]) {
    const [x, y] = [thresholdAt(by('x'), rank), thresholdAt(by('y'), rank)];
    // The least by which the two thresholds must differ whatever the unanswered rungs would say.
    const apart = Math.max(
      (x.from ?? -Infinity) - (y.to ?? Infinity),
      (y.from ?? -Infinity) - (x.to ?? Infinity),
    );
    if (apart > step / 2) {
      found.push(axesDisagree(FELT[rank]!, apart, locus));
      break;
    }
  }
  return found;
}

/** The step between neighbouring rungs, in whatever order they are given. @throws RangeError for fewer than two, or two alike */
function stepOf(rungs: readonly Rung[]): number {
  const ids = new Set(rungs.map((r) => r.id));
  if (ids.size < rungs.length) throw new RangeError('readLadder: two rungs have one name');
  const row = rungs
    .filter((r) => r.axis === 'x')
    .map((r) => r.clearance)
    .sort((a, b) => a - b);
  const step = Math.min(...row.slice(1).map((c, i) => snap(c - row[i]!)));
  if (!(step > 0 && Number.isFinite(step)))
    throw new RangeError('readLadder: the rungs across X do not rise');
  return step;
}

/** What is assumed where the answers do not say: of snug, drive and slip. */
function assumptions(
  { mallet, hand, rattle }: LadderReading['thresholds'],
  { snug, drive, slip }: Pick<LadderReading, 'snug' | 'drive' | 'slip'>,
  malletTried: boolean,
): string[] {
  const mm = (n: number): string => `${+n.toFixed(3)} mm`;
  return [
    ...(hand.from === null
      ? [`none felt tighter than by hand, so snug is taken as ${mm(snug)} and may lie well below`]
      : []),
    ...(malletTried || mallet.to === null
      ? []
      : [`none wanted the mallet, so drive is assumed at ${mm(drive)}, half a step below snug`]),
    ...(rattle.to === null ? [`none rattled, so slip is assumed at ${mm(slip)}`] : []),
  ];
}

/**
 * What was felt in a ladder, as the clearances to program (width less the sheet's thickness as measured with the same
 * instrument, mm): *snug* is the tightest rung that went home by hand, *drive* the middle of those that wanted the mallet
 * (half a step below snug where none was tried), *slip* the widest that went home by hand, or one step below
 * the tightest that rattled where that is wider (two steps above snug where none did). An answer bounds a threshold from one side, so three answers suffice; nothing is drawn towards a habit. Refused: wider rungs that felt tighter, axes that disagree, a ladder that
 * nothing or everything entered, one rung answered in two ways. Neither the order of the rungs nor that of the answers matters.
 * @throws RangeError for rungs of one name, or of one width across X.
 */
export function readLadder(
  rungs: readonly Rung[],
  answers: readonly FeltAnswer[],
  locus: Locus = {},
): Outcome<LadderReading> {
  if (answers.length === 0) return fail(noAnswers(locus));
  const unknown = answers.filter((a) => !rungs.some((r) => r.id === a.rung));
  if (unknown.length > 0)
    return fail(
      ...unknown.map((a) =>
        unknownRung(
          a.rung,
          rungs.map((r) => r.id),
          locus,
        ),
      ),
    );
  const known = answers.map(
    ({ rung, felt }): Answered => ({
      rung: rungs.find((r) => r.id === rung)!,
      felt,
      rank: FELT.indexOf(felt),
    }),
  );
  const step = stepOf(rungs);
  const wrong = [...contradictions(known, locus), ...axisProblems(known, step, locus)];
  if (wrong.length > 0) return fail(...wrong);
  const [mallet, hand, rattle] = [1, 2, 3].map((rank) => thresholdAt(known, rank)) as [
    Threshold,
    Threshold,
    Threshold,
  ];
  const byHand = known.filter((a) => a.felt === 'hand').map((a) => a.rung.clearance);
  if (byHand.length === 0) {
    // Nothing by hand between mallet and rattle: one step decides, its middle is the best that can be said.
    if (hand.from === null) return fail(ladderTooWide(Math.min(...rungs.map((r) => r.clearance)), locus));
    if (hand.to === null) return fail(ladderTooNarrow(Math.max(...rungs.map((r) => r.clearance)), locus));
  }
  const snug = byHand.length > 0 ? Math.min(...byHand) : (hand.from! + hand.to!) / 2;
  const byMallet = known.filter((a) => a.felt === 'mallet').map((a) => a.rung.clearance);
  // By widths, not by rungs: two rungs of one width say no more of slip than one. An answer more never draws it nearer to snug.
  const slip = Math.max(snug, ...byHand, rattle.to === null ? snug + 2 * step : rattle.to - step);
  const drive = byMallet.length > 0 ? (Math.min(...byMallet) + Math.max(...byMallet)) / 2 : snug - step / 2;
  const thresholds = { mallet, hand, rattle };
  const open = assumptions(thresholds, { snug, drive, slip }, byMallet.length > 0);
  const told = new Set(answers.map((a) => a.rung)).size;
  const over = (from: number, to: number): number => Math.max(step / 2, to - from) / Math.sqrt(12);
  return ok(
    {
      kind: 'ladder-reading',
      snug: snap(snug),
      drive: snap(drive),
      slip: snap(slip),
      thresholds,
      // Nothing below bounds it: it may lie a good deal lower. Two rungs of one width bound no narrower than half a step.
      u: (hand.from === null ? 2 * step : Math.max(step / 2, snug - hand.from)) / Math.sqrt(12),
      driveU: over(mallet.from ?? drive - 2 * step, snug),
      slipU: over(Math.max(snug, ...byHand), rattle.to ?? slip + 2 * step),
    },
    told < 3 && open.length > 0 ? [fewAnswers(told, open, hand.from === null, locus)] : [],
  );
}
