import type { Layout } from '@haunch/model';
import { drawChart } from './chart.js';
import { budgetText, type Comparison, meanCurve, timeToTarget } from './compare.js';
import type { Step } from './curve.js';
import { escaped } from './escaped.js';
import { drawLayout } from './layout-picture.js';
import type { LayoutProblem } from './problem.js';
import { caseTable, duelTable, sourceLines } from './tables.js';
import { figureOf, type TrialResult } from './trial.js';

/** A trial together with its problem and the layout it came to. */
export interface ReportedTrial {
  readonly problem: LayoutProblem;
  readonly result: TrialResult;
  readonly layout?: Layout;
}

/** What the page says of where the figures were measured. */
export interface ReportFacts {
  readonly title: string;
  /** Lines such as the processor, the version, the command to run it again. */
  readonly about: readonly string[];
}

const rowsOf = (lines: readonly string[]): string[][] =>
  lines
    .filter((l) => !/^\|[\s|-]+\|$/.test(l))
    .map((l) =>
      l
        .slice(2, -2)
        .split(' | ')
        .map((c) => c.trim()),
    );

function table(lines: readonly string[]): string {
  const [head = [], ...rows] = rowsOf(lines);
  const cells = (r: readonly string[], tag: string): string =>
    `<tr>${r.map((c) => `<${tag}>${escaped(c)}</${tag}>`).join('')}</tr>`;
  return `<div class="wide"><table><thead>${cells(head, 'th')}</thead><tbody>${rows.map((r) => cells(r, 'td')).join('')}</tbody></table></div>`;
}

const points = (steps: readonly Step[], from: number) => [
  { x: from, y: steps[0]?.x === from ? steps[0].share * 100 : 0 },
  ...steps.map((s) => ({ x: s.x, y: s.share * 100 })),
];

const unique = <T>(v: readonly T[]): T[] => [...new Set(v)];

/** Mean density over time of each strategy on one problem at its longest budget. */
function anytimeChart(trials: readonly ReportedTrial[]): string {
  const { problem } = trials[0]!;
  const end = Math.max(...trials.map((t) => t.result.seconds));
  const times = Array.from({ length: 61 }, (_, i) => (end * i) / 60);
  const strip = problem.stripWidth !== undefined;
  const level = problem.known?.density;
  return drawChart({
    title: `${problem.name}: what was in hand, mean over seeds`,
    xTitle: 'seconds',
    yTitle: strip ? 'density, %' : 'boards, below 0',
    lines: unique(trials.map((t) => t.result.strategy)).map((name) => {
      const y = meanCurve(
        trials.filter((t) => t.result.strategy === name).map((t) => t.result),
        times,
      );
      return { name, points: times.map((x, i) => ({ x, y: y[i] })) };
    }),
    ...(strip && level !== undefined ? { level: { name: 'best known', y: level * 100 } } : {}),
  });
}

/** Seconds until each run came within two points of the best known density. */
function targetChart(trials: readonly ReportedTrial[]): string {
  const { problem } = trials[0]!;
  const target = problem.known?.density;
  if (target === undefined || problem.stripWidth === undefined) return '';
  const figure = target * 100 - 2;
  return drawChart({
    title: `${problem.name}: runs that reached ${figure.toFixed(2)} % (best known less 2)`,
    xTitle: 'seconds',
    yTitle: 'share of runs, %',
    to: Math.max(...trials.map((t) => t.result.seconds)),
    range: [0, 100],
    lines: unique(trials.map((t) => t.result.strategy)).map((name) => ({
      name,
      points: points(
        timeToTarget(
          trials.filter((t) => t.result.strategy === name).map((t) => t.result),
          figure,
        ),
        0,
      ),
      steps: true,
    })),
  });
}

const best = (trials: readonly ReportedTrial[]): ReportedTrial | undefined =>
  trials
    .filter((t) => t.layout)
    .reduce<ReportedTrial | undefined>(
      (a, b) => (a && figureOf(a.result)! >= figureOf(b.result)! ? a : b),
      undefined,
    );

function problemSection(trials: readonly ReportedTrial[]): string {
  const { problem } = trials[0]!;
  const top = best(trials);
  const longest = Math.max(...trials.map((t) => t.result.seconds));
  const spent = budgetText(trials.find((t) => t.result.seconds === longest)!.result.budget);
  const atLongest = trials.filter((t) => budgetText(t.result.budget) === spent);
  const faults = trials.flatMap((t) =>
    t.result.fault === undefined
      ? []
      : [`${t.result.strategy}, seed ${t.result.seed}, ${budgetText(t.result.budget)}: ${t.result.fault}`],
  );
  const { stripWidth, instance } = problem;
  const what =
    stripWidth === undefined
      ? `${instance.items.length} items, ${instance.boards.length} boards offered`
      : `${instance.items.length} items on a strip ${stripWidth} wide`;
  return `<section><h2>${escaped(problem.name)}</h2><p>${escaped(what)}. ${escaped(problem.notes.join('. '))} Data: ${escaped(problem.source)}.</p>
${top ? `<figure>${drawLayout(problem, top.layout!, `Best layout of ${problem.name}`)}<figcaption>${escaped(`${top.result.strategy}, seed ${top.result.seed}, ${budgetText(top.result.budget)}: ${caption(top.result)}`)}</figcaption></figure>` : '<p><strong>No run found a valid complete layout.</strong></p>'}
${faults.length > 0 ? `<p>What went wrong:</p><ul>${faults.map((f) => `<li>${escaped(f)}</li>`).join('')}</ul>` : ''}
<figure>${anytimeChart(atLongest)}</figure>${target(atLongest)}</section>`;
}

const target = (trials: readonly ReportedTrial[]): string => {
  const chart = targetChart(trials);
  return chart === '' ? '' : `<figure>${chart}</figure>`;
};

const caption = (r: TrialResult): string =>
  r.length === undefined
    ? `${r.boards} boards`
    : `${(r.density! * 100).toFixed(2)} %, length ${r.length}, least gap ${r.leastGap ?? 'none'}`;

const STYLE = `body{font:16px/1.5 Georgia,serif;margin:2rem auto;max-width:70rem;padding:0 1rem;color:#222;background:#fff}
table{border-collapse:collapse;font:14px/1.4 sans-serif}th,td{border:1px solid #bbb;padding:.25rem .5rem;text-align:right}th:first-child,td:first-child,th:nth-child(2),td:nth-child(2){text-align:left}
.wide{overflow-x:auto}figure{margin:1rem 0}figure svg{max-width:100%;max-height:26rem;height:auto}figcaption{font:14px sans-serif}`;

/**
 * One page that opens without a network: tables, duels, profiles, and for each problem its best layout, the course of
 * the runs and the time to the target. Deterministic for the same trials.
 */
export function reportPage(
  trials: readonly ReportedTrial[],
  comparison: Comparison,
  facts: ReportFacts,
): string {
  const names = unique(trials.map((t) => t.problem.name)).sort();
  const sources = sourceLines(comparison);
  const duels = duelTable(comparison);
  const profiles = comparison.profiles
    .filter((p) => p.curves.length > 1)
    .map((p) => {
      const chart = drawChart({
        title: `Performance profile at ${p.budget}`,
        xTitle: 'cost over the least of any strategy',
        yTitle: 'share of problems, %',
        lines: p.curves.map((c) => ({ name: c.name, points: points(c.steps, 1), steps: true })),
        from: 1,
        to: 1.02,
        range: [0, 100],
      });
      return `<figure>${chart}</figure>`;
    });
  return `<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1"><title>${escaped(facts.title)}</title><style>${STYLE}</style></head><body>
<h1>${escaped(facts.title)}</h1>
<ul>${facts.about.map((a) => `<li>${escaped(a)}</li>`).join('')}</ul>
<p>Density is the area of the items over the strip's width times the length taken, in percent. Every layout was judged by the referee; a run without a valid complete layout counts as failed and in no mean. The interval is the percentile bootstrap of the mean; with few runs it is too narrow.</p>
${table(caseTable(comparison))}
${sources.length > 0 ? `<h2>Where the best known figures come from</h2><ul>${sources.map((s) => `<li>${escaped(s)}</li>`).join('')}</ul>` : ''}
${duels.length > 0 ? `<h2>Strategy against strategy</h2><p>Signed-rank test over the problems' means; probabilities two-sided, corrected after Holm.</p>${table(duels)}` : ''}
${profiles.join('\n')}
${names.map((n) => problemSection(trials.filter((t) => t.problem.name === n))).join('\n')}
</body></html>
`;
}
