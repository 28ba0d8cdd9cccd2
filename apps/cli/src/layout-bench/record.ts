import { cpus } from 'node:os';
import type { Layout } from '@haunch/model';
import { budgetText, type TrialResult } from '@haunch/nesting/trial';
import { type FoundProblem, sha256 } from './problem-folder.js';

/** Where a run of the bench takes place. */
export interface Workplace {
  readonly haunch: string;
  readonly node: string;
  readonly v8: string;
  readonly platform: string;
  readonly cpu: string;
  readonly cores: number;
  readonly threads: number;
}

/** This machine, as each record states it. */
export const workplace = (threads: number): Workplace => ({
  haunch: '0.0.0',
  node: process.versions.node,
  v8: process.versions.v8,
  platform: `${process.platform} ${process.arch}`,
  cpu: cpus()[0]?.model.trim() ?? 'unknown',
  cores: cpus().length,
  threads,
});

/** The name that a trial's layout file bears. */
export const layoutFile = (r: TrialResult): string =>
  `layouts/${[r.problem, r.strategy, budgetText(r.budget), `seed ${r.seed}`].join('.').replace(/[^\w.-]+/g, '-')}.json`;

/** What a shell takes as one word. */
const word = (text: string): string =>
  /^[\w./:,*-]+$/.test(text) ? text : `'${text.replaceAll("'", "'\\''")}'`;

/** The command that runs one trial again. */
export const againCommand = (folder: string, r: TrialResult, strategy: string): string =>
  `haunch bench layout ${word(folder)} --only ${word(r.problem)} --strategy ${word(strategy)} --seeds ${r.seed} --budget ${'ticks' in r.budget ? r.budget.ticks : `${r.budget.seconds}s`} --threads ${r.explorers === undefined ? 1 : `${r.explorers} --explorers ${r.explorers}`}`;

/** A line of `trials.jsonl`: all that a reader needs to judge the trial and to run it again. */
export function recordLine(
  result: TrialResult,
  layout: Layout | undefined,
  found: FoundProblem,
  place: Workplace,
  started: string,
  command: string,
): string {
  const text = layout === undefined ? undefined : layoutText(found, result, layout);
  return JSON.stringify({
    format: 'haunch-layout-trial',
    version: 1,
    ...result,
    items: found.problem.instance.items.length,
    itemArea: found.problem.itemArea,
    stripWidth: found.problem.stripWidth ?? null,
    spacing: found.problem.instance.spacing,
    edgeMargin: found.problem.instance.edgeMargin,
    notes: found.problem.notes,
    problemFile: found.file,
    problemSha256: found.hash,
    ...(text === undefined ? {} : { layoutFile: layoutFile(result), layoutSha256: sha256(text) }),
    ...place,
    started,
    command,
  });
}

/** A layout as a file of its own. Motions: turn in radians about the outline's own origin, then the shift. */
export const layoutText = (found: FoundProblem, r: TrialResult, layout: Layout): string =>
  `${JSON.stringify(
    {
      format: 'haunch-layout',
      version: 1,
      problem: found.problem.name,
      problemSha256: found.hash,
      ...(r.length === undefined ? {} : { length: r.length }),
      placements: layout.placements,
    },
    null,
    1,
  )}\n`;

const SCALARS = [
  'problem',
  'strategy',
  'seed',
  'valid',
  'length',
  'boards',
  'density',
  'lowerBound',
  'gap',
  'leastGap',
  'seconds',
  'ticks',
  'refused',
  'fault',
] as const;

/** The scalar fields of the trials as a table with commas. */
export const csvOf = (results: readonly TrialResult[]): string => {
  const cell = (v: unknown): string => {
    const text = v === undefined || v === null ? '' : String(v);
    return /[",\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
  };
  return `${['budget', ...SCALARS].join(',')}\n${results
    .map((r) => [budgetText(r.budget), ...SCALARS.map((k) => r[k])].map(cell).join(','))
    .join('\n')}\n`;
};
