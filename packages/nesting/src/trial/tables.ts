import type { Comparison } from './compare.js';
import { markdownTable } from './markdown-table.js';

const dot2 = (v: number | undefined): string => (v === undefined ? '–' : v.toFixed(2));

/** A figure as people read it: density with two decimals, boards as they are counted. */
export const figureText = (v: number | undefined): string => {
  if (v === undefined) return '–';
  return v < 0 ? `${+(-v).toFixed(2)} boards` : v.toFixed(2);
};

/** The table of cases as lines of Markdown: density in % (or boards) by best, mean, deviation, interval; gaps; seconds. */
export function caseTable(comparison: Comparison): string[] {
  const head = [
    'problem',
    'strategy',
    'budget',
    'runs',
    'best',
    'mean',
    'worst',
    'sd',
    '95 % of the mean',
    'over bound',
    'best known',
    'behind it',
    'seconds',
  ];
  const rows = comparison.cases.map((c) => {
    const f = c.figure;
    const known = c.known?.density ?? undefined;
    return [
      c.problem,
      c.strategy,
      c.budget,
      c.failed > 0 ? `${c.runs} (${c.failed} failed)` : `${c.runs}`,
      figureText(f?.best),
      figureText(f?.mean),
      figureText(f?.worst),
      dot2(f?.deviation),
      f ? `${dot2(Math.abs(f.interval[0]))} … ${dot2(Math.abs(f.interval[1]))}` : '–',
      c.meanGap === undefined ? '–' : `${(c.meanGap * 100).toFixed(1)} %`,
      c.known?.boards !== undefined
        ? `${c.known.boards} boards`
        : known === undefined
          ? '–'
          : (known * 100).toFixed(2),
      dot2(c.toKnown),
      dot2(c.meanSeconds),
    ];
  });
  return markdownTable([head, ...rows]);
}

/** The table of duels as lines of Markdown; empty where there is one strategy. */
export function duelTable(comparison: Comparison): string[] {
  if (comparison.duels.length === 0) return [];
  return markdownTable([
    ['strategies', 'budget', 'better on', 'worse on', 'signed-rank sum', 'p', 'p after Holm'],
    ...comparison.duels.map((d) => [
      `${d.first} against ${d.second}`,
      d.budget,
      `${d.wins}`,
      `${d.losses}`,
      `${d.test.statistic}`,
      d.test.p.toFixed(4),
      d.p.toFixed(4),
    ]),
  ]);
}

/** Where each best-known figure comes from, one line each. */
export function sourceLines(comparison: Comparison): string[] {
  const seen = new Map<string, string>();
  for (const c of comparison.cases)
    if (c.known) seen.set(c.problem, `${c.problem}: ${c.known.source}${c.known.proved ? ' (proved)' : ''}`);
  return [...seen.values()];
}
