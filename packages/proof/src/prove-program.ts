import { fail, type Outcome, ok, type RuleResult } from '@haunch/model';
import { readProgram } from '@haunch/nc/read';
import { manyDepths, noCutters, noItems, nothingToProve, shapesRefused, tooDense } from './diagnostics.js';
import { FINEST, judge } from './judge.js';
import type { Judgement } from './judgement.js';
import { originsOf } from './origins.js';
import { proofOf } from './proof-of.js';
import type { Proved, ProveInput } from './prove-input.js';
import { RULES } from './rules/all-rules.js';
import { applyRule } from './rules/rule.js';
import { TooDense } from './sweep/too-dense.js';

interface Applied {
  readonly judgement: Judgement;
  /** The results of the rules in their order, up to the one that ended it. */
  readonly rules: readonly RuleResult[];
  /** The least thickness of a slab that was told apart, mm. */
  readonly step: number;
}

/** Reads a program and applies the rules until one of them ends it. */
function applyRules(input: ProveInput, ends: (r: RuleResult) => boolean): Outcome<Applied> {
  const { board, cutters, items, file } = input;
  if (cutters.length === 0) return fail(noCutters(board.id));
  if (items.length === 0) return fail(noItems(board.id));
  const reading = readProgram(input.text, {
    ...(file === undefined ? {} : { file }),
    ...(input.meaning === undefined ? {} : { meaning: input.meaning }),
    ...originsOf(input.machine, board),
  });
  if (!reading.moves.some((m) => m.kind === 'linear' || m.kind === 'arc' || m.kind === 'rapid'))
    return fail(nothingToProve(file), ...reading.diagnostics);
  try {
    const { judgement, step } = judge(input, reading);
    const rules: RuleResult[] = [];
    for (const rule of RULES) {
      const result = applyRule(rule, judgement);
      rules.push(result);
      if (ends(result)) break;
    }
    return ok({ judgement, rules, step });
  } catch (e) {
    if (e instanceof TooDense) return fail(tooDense(file, e.at));
    if (e instanceof TypeError) throw e;
    return fail(shapesRefused(board.id, e instanceof Error ? e.message : String(e)));
  }
}

function outcome(input: ProveInput, { judgement, rules, step }: Applied): Outcome<Proved> {
  const proof = proofOf(judgement, rules);
  return ok({ proof, asCut: judgement.asCut }, step > FINEST ? [manyDepths(input.file, step)] : []);
}

/**
 * Judges a program by its text alone: reads it, sweeps the measured cutters along it at every depth, compares the
 * parts as cut with what is wanted, measures every joint whose walls are on this board, and applies all rules. The
 * outcome fails only when there is nothing to judge; a program that breaks rules is a proof with `pass` false.
 * Board coordinates, mm; the board's lower left corner is the program's X0 Y0. Never throws for bad text.
 */
export function proveProgram(input: ProveInput): Outcome<Proved> {
  const applied = applyRules(input, () => false);
  return applied.ok ? outcome(input, applied.value) : applied;
}

/**
 * The same for one who asks only whether a program passes: ends at the first rule that fails, and does not sweep where
 * the motions alone break one. A program that passes has its whole proof, the very same as that of `proveProgram`.
 */
export function proveOrRefuse(input: ProveInput): Outcome<Proved | { readonly refused: RuleResult }> {
  const applied = applyRules(input, (r) => r.verdict === 'fail');
  if (!applied.ok) return applied;
  const last = applied.value.rules.at(-1);
  return last?.verdict === 'fail' ? ok({ refused: last }) : outcome(input, applied.value);
}
