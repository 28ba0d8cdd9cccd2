import { type Cutter, type Finding, fail, type Outcome, ok, type RuleResult } from '@haunch/model';
import { type NcMove, type NcReading, readProgram } from '@haunch/nc/read';
import { manyDepths, noCutters, noItems, nothingToProve, shapesRefused, tooDense } from './diagnostics.js';
import { FINEST, judge, unnamedCutter } from './judge.js';
import type { Judgement } from './judgement.js';
import { originsOf } from './origins.js';
import { lineOfProgram, type ProgramLines } from './program-lines.js';
import { proofOf } from './proof-of.js';
import type { Proved, ProveInput } from './prove-input.js';

import { RULES } from './rules/all-rules.js';
import { applyRule } from './rules/rule.js';
import { findStretches } from './sweep/find-stretches.js';
import type { Stretch } from './sweep/stretch.js';
import { TooDense } from './sweep/too-dense.js';

/** One of several programs that are run one after the other on the same board. */
export interface SequenceProgram {
  readonly text: string;
  /** Its name, by which findings speak of it; unlike those of the others. */
  readonly file: string;
  /** What is in the machine while it runs; all of the sequence's cutters when left out. A text that names no tool wants just one. */
  readonly cutters?: readonly Cutter[];
  /** It has been cut already, up to its last line here: how it begins and ends is not judged any more. */
  readonly done?: boolean;
}

/** Programs and what they are judged against together. mm */
export interface ProveSequenceInput extends Omit<ProveInput, 'text' | 'file'> {
  readonly programs: readonly SequenceProgram[];
}

/** What is asked of every program for itself, not of the board: read, begun, its tools, ended. */
const EACH: ReadonlySet<string> = new Set(['P01', 'P02', 'P15', 'P17']);

interface Run {
  readonly program: SequenceProgram;
  readonly reading: NcReading;
  readonly assumed: Cutter | null;
  readonly stretches: readonly Stretch[];
}

const countLines = (text: string): number => text.split('\n').length;

const later = <M extends NcMove>(m: M, by: number): M => ({ ...m, line: m.line + by });

/** A rule's results on several programs as one: the gravest verdict, the least margin, every finding with its program. */
function together(results: readonly { readonly file: string; readonly result: RuleResult }[]): RuleResult {
  const grave = (v: RuleResult['verdict']): number => (v === 'fail' ? 0 : v === 'not judged' ? 1 : 2);
  const worst = results.reduce((a, b) => (grave(b.result.verdict) < grave(a.result.verdict) ? b : a)).result;
  const margins = results.flatMap((r) => r.result.margin ?? []);
  return {
    ...worst,
    margin: margins.length === 0 ? null : Math.min(...margins),
    findings: results.flatMap(({ file, result }) =>
      result.findings.map((f): Finding => ({ ...f, program: file })),
    ),
  };
}

/** The findings of a rule on all of a board's work, each with the program that its line is of. */
const withPrograms = (r: RuleResult, programs: readonly ProgramLines[]): RuleResult => ({
  ...r,
  findings: r.findings.map(
    (f): Finding =>
      f.line === undefined || f.program !== undefined ? f : { ...f, ...lineOfProgram(programs, f.line) },
  ),
});

/**
 * Judges programs that are run one after the other on the same board: the stock after the first is the stock of the second, so that
 * parts, joints, tabs, and what is released when, are judged on what all of them leave; how a program begins and ends, reads and
 * names its tools is judged of each that is not cut yet. Findings and the lines of fits name their program.
 * Fails when there is nothing to judge. Never throws for bad text.
 * @throws RangeError when two programs have the same name.
 */
export function proveSequence(input: ProveSequenceInput): Outcome<Proved> {
  const { programs, ...shared } = input;
  const { board, items, machine } = shared;
  if (new Set(programs.map((p) => p.file)).size < programs.length)
    throw new RangeError('proveSequence: two programs have the same name');
  if (shared.cutters.length === 0) return fail(noCutters(board.id));
  if (items.length === 0) return fail(noItems(board.id));
  const { meaning } = shared;
  const runs: Run[] = [];
  const lines: ProgramLines[] = [];
  const stretches: Stretch[] = [];
  const moves: NcMove[] = [];
  let before = 0;
  for (const program of programs) {
    const reading = readProgram(program.text, {
      file: program.file,
      ...(meaning === undefined ? {} : { meaning }),
      ...originsOf(machine, board),
    });
    if (!reading.moves.some((m) => m.kind === 'linear' || m.kind === 'arc' || m.kind === 'rapid')) {
      // Something may break before the first move: then nothing is cut, and the rest is all.
      if (program.done) continue;
      return fail(nothingToProve(program.file), ...reading.diagnostics);
    }
    const cutters = program.cutters ?? shared.cutters;
    const assumed = unnamedCutter(reading, cutters);
    const own = findStretches(reading, {
      cutters,
      safe: (machine.zZero === 'top' ? 0 : board.thickness) + machine.clearance,
      only: assumed,
      distortion: machine.distortion,
    });
    runs.push({ program, reading, assumed, stretches: own });
    lines.push({ program: program.file, first: before + 1 });
    for (const s of own)
      stretches.push({
        ...s,
        index: stretches.length,
        line: s.line + before,
        tool: s.tool ?? assumed?.number ?? null,
      });
    for (const m of reading.moves) moves.push(later(m, before));
    before += countLines(program.text);
  }
  const last = runs.at(-1);
  if (!last) return fail(nothingToProve(programs.at(-1)?.file));
  const whole: NcReading = {
    ...last.reading,
    moves,
    diagnostics: runs.flatMap((r) => r.reading.diagnostics),
    blocks: runs.reduce((sum, r) => sum + r.reading.blocks, 0),
  };
  try {
    const { judgement, step } = judge({ ...shared, text: '' }, whole, {
      stretches,
      assumed: null,
      programs: lines,
    });
    const asked = runs.filter((r) => !r.program.done);
    const rules = RULES.map((rule) => {
      if (!EACH.has(rule.id) || asked.length === 0) return withPrograms(applyRule(rule, judgement), lines);
      return together(
        asked.map(({ program, reading, assumed, stretches: own }) => {
          const alone: Judgement = { ...judgement, reading, assumed, stretches: own };
          return { file: program.file, result: applyRule(rule, alone) };
        }),
      );
    });
    const said = step > FINEST ? [manyDepths(last.program.file, step)] : [];
    return ok({ proof: proofOf(judgement, rules), asCut: judgement.asCut }, said);
  } catch (e) {
    if (e instanceof TooDense) return fail(tooDense(last.program.file, e.at));
    if (e instanceof TypeError) throw e;
    return fail(shapesRefused(board.id, e instanceof Error ? e.message : String(e)));
  }
}
