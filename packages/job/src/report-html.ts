import { duration } from './duration.js';
import { REPLAY_LOADER, REPLAY_STYLE } from './embedded-replays.js';
import { escapeHtml as html } from './escape-html.js';
import { replayPath } from './replay/replay-path.js';
import { orderPath } from './report.js';
import type { Report } from './report-schema.js';
import { TURNTABLE_STYLE } from './turntable/turntable-html.js';
import { TURNTABLE_SCRIPT } from './turntable/turntable-script.js';

const mm = (n: number | null, digits = 3): string =>
  n === null ? 'not measured' : `${(Math.round(n * 10 ** digits) / 10 ** digits + 0).toFixed(digits)}`;
const SIGN: Readonly<Record<string, string>> = {
  'as wanted': '✓',
  tight: '▲',
  slack: '▽',
  blocked: '✕',
  unknown: '?',
  pass: '✓',
  fail: '✕',
  'not judged': '–',
};
const verdict = (word: string): string =>
  `<span class="v ${word.replaceAll(' ', '-')}"><span aria-hidden="true">${SIGN[word] ?? ''}</span> ${html(word)}</span>`;

/** A small scale of clearance: the wanted value as a line, the as-cut range as a bar. */
function scale(least: number | null, most: number | null, wanted: number): string {
  if (least === null || most === null) return '';
  const [from, to] = [wanted - 0.2, wanted + 0.3];
  const x = (v: number): number => Math.round(Math.max(0, Math.min(1, (v - from) / (to - from))) * 1000) / 10;
  const width = Math.max(1.5, x(most) - x(least));
  return `<svg class="scale" viewBox="0 0 100 12" role="img" aria-label="as cut ${mm(least)} to ${mm(most)} mm, wanted ${mm(wanted)} mm"><line x1="0" y1="6" x2="100" y2="6" class="axis"/>${from < 0 && to > 0 ? `<line x1="${x(0)}" y1="3" x2="${x(0)}" y2="9" class="axis"/>` : ''}<rect x="${x(least)}" y="3.5" width="${width}" height="5" rx="1" class="range"/><line x1="${x(wanted)}" y1="0" x2="${x(wanted)}" y2="12" class="wanted"/></svg>`;
}

const STYLE = `
:root{color-scheme:light dark;--paper:#faf7f1;--ink:#23211c;--soft:#6b6558;--line:#d8d0c0;--card:#fffdf8;--good:#2f6b3c;--bad:#a3341f;--open:#7a5a00;--accent:#3d5a73}
@media (prefers-color-scheme:dark){:root{--paper:#1d1b17;--ink:#ece6d9;--soft:#a79f8e;--line:#423d33;--card:#26231e;--good:#8ecb98;--bad:#f0957f;--open:#e3c069;--accent:#9dbdd8}}
*{box-sizing:border-box}body{margin:0;background:var(--paper);color:var(--ink);font:17px/1.5 system-ui,sans-serif}
main{max-width:76rem;margin:0 auto;padding:1.5rem 1.2rem 4rem}h1{font-size:1.7rem;line-height:1.2;margin:.2rem 0}h2{font-size:1.25rem;margin:2.4rem 0 .6rem;border-bottom:2px solid var(--line);padding-bottom:.2rem}
h3{font-size:1.05rem;margin:1.4rem 0 .4rem}p{max-width:62rem}.soft{color:var(--soft)}.state{border:2px solid currentColor;border-radius:.5rem;padding:.7rem 1rem;margin:1rem 0;font-size:1.1rem}
.state.pass{color:var(--good)}.state.fail{color:var(--bad)}.state span{color:var(--ink)}nav a{margin-right:1rem}a{color:var(--accent)}
.wide{overflow-x:auto}table{border-collapse:collapse;width:100%;font-size:.95rem}th,td{text-align:left;padding:.35rem .6rem;border-bottom:1px solid var(--line);vertical-align:top}th{color:var(--soft);font-weight:600;white-space:nowrap}
td.n,th.n{text-align:right;font-variant-numeric:tabular-nums;white-space:nowrap}.v{white-space:nowrap;font-weight:600}.v.as-wanted,.v.pass{color:var(--good)}.v.tight,.v.slack,.v.blocked,.v.fail{color:var(--bad)}.v.unknown,.v.not-judged{color:var(--open)}
.scale{width:8rem;height:1rem;display:block}.scale .axis{stroke:var(--soft);stroke-width:.8}.scale .range{fill:var(--accent)}.scale .wanted{stroke:var(--ink);stroke-width:1.2;stroke-dasharray:2 1.2}
figure{margin:.6rem 0;background:#fffdf8;border:1px solid var(--line);border-radius:.4rem;padding:.5rem;color:#23211c}figure svg{width:100%;height:auto;display:block}figcaption{color:#5d574b;font-size:.9rem;padding:.3rem .2rem 0}
details{margin:.4rem 0}summary{cursor:pointer;color:var(--accent)}ul.cautions{border-left:.35rem solid var(--open);padding:.2rem 0 .2rem 1.6rem;max-width:62rem}ul.cautions li{margin:.35rem 0}code{font-size:.92em}
figure.piece{max-width:44rem;padding:0;border:0;background:none}tr.joint>td{border-bottom:0;padding-bottom:0}tr.more>td{padding-top:0}tr.more details{margin:0}
@media print{body{background:#fff;color:#000;font-size:11pt}nav{display:none}figure,tr{break-inside:avoid}}
`;

/** The pictures that go into a report, as SVG text: one for each board, and one of the refitted parts. */
export interface ReportPictures {
  readonly boards: Readonly<Record<string, string>>;
  readonly parts: string;
  /** The order of work on each board. */
  readonly orders: Readonly<Record<string, string>>;
  /** Thickness maps of the boards. */
  readonly maps: Readonly<Record<string, string>>;
  /** The piece put together; left out where there are several, or no master. */
  readonly piece?: string;
  /** Each kind of piece to be turned and taken apart, as fragments of the page. */
  readonly turntables?: readonly string[];
  /** Replays that the page holds itself, as fragments, by the program's file. */
  readonly replays?: ReadonlyMap<string, string>;
}

const inline = (svg: string): string => svg.replace(/^<\?xml[^>]*\?>\s*/, '');

/** What was measured at a place: the slot along its length, what enters it, the housing's depth. */
function sizes(f: Report['joints'][number]['fits'][number]): string {
  const range = (least: number, most: number): string =>
    mm(least) === mm(most) ? mm(least) : `${mm(least)} … ${mm(most)}`;
  const widths = f.along?.map((p) => p.width) ?? [];
  return [
    ...(widths.length > 0 ? [`slot ${range(Math.min(...widths), Math.max(...widths))}`] : []),
    ...(f.tenon ? [`tenon ${range(f.tenon.least, f.tenon.most)}`] : []),
    ...(f.plate
      ? [`plate ${mm(f.plate.thickness)}${f.plate.from === 'board map' ? ' there, by the map' : ''}`]
      : []),
    ...(f.depth ? [`deep ${range(f.depth.least, f.depth.most)}`] : []),
  ].join(', ');
}

function jointRows(report: Report): string {
  return report.joints
    .map((j) => {
      const rows = j.fits
        .map(
          (f) =>
            `<tr><td>${html(f.fit)}</td><td>${f.kind}</td><td>${html(f.enteringPart)} in ${html(f.slotPart)}</td><td class="n">${mm(f.wanted)}</td><td class="n">${mm(f.least)}</td><td class="n">${mm(f.most)}</td><td>${verdict(f.verdict)}</td><td>${sizes(f)}</td><td>${f.basis}</td><td>${f.lines
              .slice(0, 12)
              .map((l, i) => (f.programs?.[i] ? `${html(f.programs[i])}: ${l}` : l))
              .join(', ')}${f.lines.length > 12 ? ` … (${f.lines.length})` : ''}</td></tr>`,
        )
        .join('');
      const grip = j.fits.filter((f) => f.kind === 'thickness');
      const known = grip.filter((f) => f.least !== null && f.most !== null);
      const least = known.length > 0 ? Math.min(...known.map((f) => f.least!)) : null;
      const most = known.length > 0 ? Math.max(...known.map((f) => f.most!)) : null;
      return `<tr class="joint" id="${html(j.joint)}"><td><strong>${html(j.joint)}</strong><br><span class="soft">${html(j.type)}</span></td><td>${html(j.enteringPart)} into ${html(j.slotPart)}</td><td class="n">${mm(j.wanted)}</td><td class="n">${mm(j.clearance)}</td><td>${scale(least, most, j.wanted ?? 0)}</td><td>${verdict(j.verdict)}</td></tr>
<tr class="more"><td colspan="6"><details><summary>${j.fits.length} places measured</summary><div class="wide"><table><thead><tr><th>place</th><th>kind</th><th>plate</th><th class="n">wanted</th><th class="n">tightest</th><th class="n">slackest</th><th>verdict</th><th>as cut mm</th><th>basis</th><th>program lines</th></tr></thead><tbody>${rows}</tbody></table></div></details></td></tr>`;
    })
    .join('\n');
}

function ruleRows(report: Report): string {
  return report.boards
    .flatMap((b) =>
      b.rules.map((r) => {
        const found = r.findings
          .slice(0, 20)
          .map((f) => {
            const place = [
              f.program && `program ${f.program}`,
              f.line !== undefined && `line ${f.line}`,
              f.part && `part ${f.part}`,
              f.joint && `joint ${f.joint}${f.jointDistance ? ` (${mm(f.jointDistance, 1)} mm away)` : ''}`,
            ]
              .filter(Boolean)
              .join(', ');
            return `<li>${place ? `<strong>${html(place)}</strong>: ` : ''}${html(f.message)}</li>`;
          })
          .join('');
        const more = r.findings.length > 20 ? `<li>… and ${r.findings.length - 20} more</li>` : '';
        return `<tr><td>${html(b.id)}</td><td>${html(r.rule)}</td><td>${html(r.title)}${found ? `<ul>${found}${more}</ul>` : ''}</td><td class="n">${r.margin === null ? '' : `${mm(r.margin, 3)} ${html(r.unit)}`}</td><td>${verdict(r.verdict)}</td></tr>`;
      }),
    )
    .join('\n');
}

const perCent = (share: number): string => `${Math.round(share * 100)} %`;

function forecastHtml({ forecast, ladder, extras, aimed }: Report): string {
  const { tight, wanted, slack, tightRange, jointsTight, jointsTightRange } = forecast;
  const total = tight + wanted + slack;
  if (total === 0) return `<p>${html(ladder)}</p>`;
  const byDoubt = <T extends { readonly wanted: number }>(all: readonly T[], id: (t: T) => string): T[] =>
    [...all].sort((a, b) => a.wanted - b.wanted || (id(a) < id(b) ? -1 : 1));
  const joints = byDoubt(forecast.joints, (j) => j.joint)
    .map(
      (j) =>
        `<tr><td>${html(j.joint)}</td><td class="n">${perCent(j.tight)}</td><td class="n">${perCent(j.wanted)}</td><td class="n">${perCent(j.slack)}</td></tr>`,
    )
    .join('');
  const range = ([least, most]: readonly [number, number]): string => `${mm(least)} … ${mm(most)}`;
  const fits = byDoubt(forecast.fits, (f) => f.fit)
    .map(
      (f) =>
        `<tr><td>${html(f.fit)}</td><td class="n">${mm(f.clearance)}</td><td class="n">${range(f.worstCase)}</td><td class="n">${range(f.rootSumSquare)}</td><td class="n">${range(f.monteCarlo)}</td><td class="n">${perCent(f.tight)}</td><td class="n">${perCent(f.wanted)}</td><td class="n">${perCent(f.slack)}</td></tr>`,
    )
    .join('');
  const [best, ...others] = forecast.remedies.filter((r) => r.saved > 0.005);
  const remedies = best
    ? `<p>What would help most: <strong>${html(best.what)}</strong>, ${best.saved.toFixed(2)} fits fewer to expect off.</p>${others.length > 0 ? `<p>Then:</p><ul>${others.map((r) => `<li>${html(r.what)}: ${r.saved.toFixed(2)} fewer</li>`).join('')}</ul>` : ''}`
    : '<p>No single measurement more would change what to expect.</p>';
  return `<p>${html(ladder)}</p>${
    aimed.length > 0 ? `<ul>${aimed.map((a) => `<li>${html(a)}</li>`).join('')}</ul>` : ''
  }${
    extras.length > 0
      ? `
<p>Slots were cut wider or narrower than they feel now for: ${html(extras.join('; '))}.</p>`
      : ''
  }
<p>Of ${forecast.joints.length} joints expect <strong>${jointsTight.toFixed(1)} to want the sanding block</strong> (nine times in ten ${jointsTightRange[0]} to ${jointsTightRange[2]}). Of their ${Math.round(total)} fits ${tight.toFixed(1)} will be too tight (nine times in ten ${tightRange[0]} to ${tightRange[2]}) and ${slack.toFixed(1)} too loose; the chance that every one is right first time is ${perCent(forecast.allWanted)}. This counts what is not known of cutter and sheets; the program itself is exact.</p>
${remedies}
<details><summary>The chances of every joint, those most in doubt first</summary><div class="wide"><table><thead><tr><th>joint</th><th class="n">tight</th><th class="n">as wanted</th><th class="n">slack</th></tr></thead><tbody>${joints}</tbody></table></div></details>
<details><summary>The clearance of every fit, reckoned three ways</summary><p>Worst case: every error at two standard uncertainties against the fit at once. Root of the sum of squares: two standard uncertainties of all errors together. Simulated: between these, 95 of 100 of the simulated clearances lie. mm.</p><div class="wide"><table><thead><tr><th>place</th><th class="n">aim</th><th class="n">worst case</th><th class="n">root sum square</th><th class="n">simulated</th><th class="n">tight</th><th class="n">as wanted</th><th class="n">slack</th></tr></thead><tbody>${fits}</tbody></table></div></details>`;
}

function machineHtml({ machine }: Report): string {
  const said = machine.words.map((w) => `<p>${html(w)}</p>`).join('');
  if (machine.mates.length === 0) return said;
  const signed = (n: number): string => `${n > 0 ? '+' : ''}${mm(n)}`;
  const rows = machine.mates
    .map(
      (m) =>
        `<tr><td>${html(m.joint)}</td><td>${m.turned > 1e-4 ? `turned ${Math.round((m.turned * 180) / Math.PI)}°` : 'the same way'}</td><td class="n">${mm(m.length, 1)}</td><td class="n">${signed(m.along)}</td><td class="n">${signed(m.across)}</td><td class="n">${mm(m.askew)}</td><td class="n">${mm(m.backlash)}</td></tr>`,
    )
    .join('');
  return `${said}<details><summary>What the machine does to each mate if nothing is done about it</summary><p>Two plates meet along a line. Along: how much longer that line comes out in the slotted plate than in the other. Across: how much wider the slot comes out. Aside: how far the end of the slot lies off its right angle. Backlash: how much narrower at most the slot comes out. mm.</p><div class="wide"><table><thead><tr><th>mate</th><th>cut</th><th class="n">length</th><th class="n">along</th><th class="n">across</th><th class="n">aside</th><th class="n">backlash up to</th></tr></thead><tbody>${rows}</tbody></table></div></details>`;
}

/** A board's programs in the order in which they are run, with what is set before each is started. */
function programsHtml({ programs }: Report['boards'][number], replays: ReportPictures['replays']): string {
  const rows = programs.map(
    (p) =>
      `<li><a href="${html(p.file)}"><code>${html(p.file)}</code></a> (<a href="${html(replayPath(stemOf(p.file)))}">replay</a>, to watch it cut). Before it is started:<ul>${p.setup.map((w) => `<li>${html(w)}</li>`).join('')}</ul>${p.pauses.length === 0 ? '' : `It waits to ${p.pauses.map((w) => html(w)).join('; and to ')}.`}${replays?.get(p.file) ?? ''}</li>`,
  );
  return `<ol class="programs">${rows.join('')}</ol>`;
}

const stemOf = (file: string): string => file.replace(/^.*\//, '').replace(/\.[^.]*$/, '');

/** Where the time of a board's work goes, all steps together. */
function timeHtml({ steps }: Report['boards'][number]): string {
  const sum = (of: keyof Report['boards'][number]['steps'][number]['spent']): number =>
    steps.reduce((total, s) => total + s.spent[of], 0);
  return `<p>The running time is the proof's, read from the program; steps have the plan's, which counts changes of cutter too. Of that ${duration(sum('cutting'))} go to cutting, ${duration(sum('entering'))} to entering, ${duration(sum('air'))} to ways through the air, ${duration(sum('change'))} to changes of cutter and ${duration(sum('dwell'))} to waiting for the spindle.</p>`;
}

/**
 * The report as one page of HTML that opens offline and fetches nothing: pictures, the piece to be turned, replays of its programs. Without
 * scripts all but these two is there.
 */
export function reportHtml(report: Report, pictures: ReportPictures): string {
  const boards = report.boards
    .map(
      (
        b,
      ) => `<h3 id="board-${html(b.id)}">${html(b.id)}: ${b.width} × ${b.height} mm, measured ${b.thickness} mm</h3>
<p>${Math.round(b.use * 1000) / 10} % of the board is parts. Layout <a href="${html(b.layout)}"><code>${html(b.layout)}</code></a>; ${b.programs.length > 1 ? `${b.programs.length} programs` : 'program'} of ${b.blocks} blocks, about ${duration(b.seconds)}:</p>
${programsHtml(b, pictures.replays)}
<figure>${inline(pictures.boards[b.id] ?? '')}<figcaption>${html(b.id)} as it lies on the bed, seen from above, cut faces up. X to the right, Y away from you, origin at the lower left corner.</figcaption></figure>
<p>At loading, measure the sheet once near its middle: between ${mm(b.map.goAt[0], 2)} and ${mm(b.map.goAt[1], 2)} mm, go; else stop, it is not this sheet or it has moved.</p>
<figure>${inline(pictures.maps[b.id] ?? '')}<figcaption>Thickness of ${html(b.id)} as measured, ${mm(b.map.least, 2)} to ${mm(b.map.most, 2)} mm.</figcaption></figure>
<figure class="order-of-work">${inline(pictures.orders[b.id] ?? '')}<figcaption>The order of work on ${html(b.id)}: numbers stand where the cutter enters the wood. The file <a href="${html(orderPath(b.id))}"><code>${html(orderPath(b.id))}</code></a> prints on a sheet of its own.</figcaption></figure>
${timeHtml(b)}
<details><summary>${b.steps.length} workingsteps in order; each is a re-entry point</summary><div class="wide"><table><thead><tr><th>step</th><th>kind</th><th>part</th><th>feature</th><th>cutter</th><th class="n">depth mm</th><th class="n">passes</th><th class="n">tabs</th><th>slug</th><th class="n">time</th><th class="n">cutting s</th><th class="n">entering s</th><th class="n">air s</th><th class="n">change s</th><th class="n">waiting s</th><th class="n">line</th></tr></thead><tbody>${b.steps
        .map(
          (s) =>
            `<tr><td>${html(s.id)}</td><td>${html(s.kind)}</td><td>${html(s.part)}</td><td>${html(s.feature)}</td><td>${html(s.cutter)}</td><td class="n">${s.depth}</td><td class="n">${s.passes}</td><td class="n">${s.tabs || ''}</td><td>${s.slug ?? ''}</td><td class="n">${duration(s.seconds)}</td>${[s.spent.cutting, s.spent.entering, s.spent.air, s.spent.change, s.spent.dwell].map((v) => `<td class="n">${v === 0 ? '' : v}</td>`).join('')}<td class="n">${b.programs.length > 1 ? `${s.program}: ` : ''}${s.line}</td></tr>`,
        )
        .join('')}</tbody></table></div></details>`,
    )
    .join('\n');
  const parts = report.parts
    .map(
      (p) =>
        `<tr><td><strong>${html(p.id)}</strong> ${html(p.name)}</td><td>${html(p.board)}</td><td class="n">${p.thickness}</td><td class="n">${p.size[0]} × ${p.size[1]}</td><td class="n">${p.reliefs}</td><td class="n">${p.tabs} of ${p.tabsWanted}</td><td class="n">${mm(p.gouge)}</td><td class="n">${mm(p.excess)}</td><td><a href="${html(p.file)}">${html(p.file)}</a></td></tr>`,
    )
    .join('');
  const said = report.diagnostics.filter((d) => d.level !== 'error');
  const { turntables = [], replays } = pictures;
  const live = turntables.length > 0 || (replays?.size ?? 0) > 0;
  return `<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width,initial-scale=1"><title>${html(report.title)}</title><style>${STYLE}${live ? `${TURNTABLE_STYLE}${REPLAY_STYLE}` : ''}</style></head>
<body><main>
<p class="soft">Haunch report</p>
<h1>${html(report.title)}</h1>
<div class="state ${report.pass ? 'pass' : 'fail'}"><strong>${report.pass ? '✓ proved' : '✕ not proved'}</strong> <span>${html(report.summary)} Running time about ${duration(report.seconds)}.</span></div>
${pictures.piece === undefined ? '' : `<figure class="piece">${inline(pictures.piece)}</figure>\n`}<nav>${turntables.length > 0 ? '<a href="#piece">The piece</a>' : ''}<a href="#cautions">Cautions</a><a href="#joints">Joints</a><a href="#forecast">Forecast</a><a href="#boards">Boards</a><a href="#parts">Parts</a><a href="#rules">Rules</a></nav>
<h2 id="cautions">Before you cut</h2>
<ul class="cautions">${report.cautions.map((c) => `<li>${html(c)}</li>`).join('')}</ul>
${turntables.length === 0 ? '' : `<h2 id="piece">The piece from all sides</h2>\n<noscript><p>Turning it needs scripts, which are off in this browser.</p></noscript>\n${turntables.join('\n')}\n`}<h2 id="joints">Joints, as the programs would cut them</h2>
<p>Clearance is slot width less the real thickness of the plate that enters (or the gap, where there is one wall), in mm: the tightest place along the walls and over the depth. Wanted here: ${html(report.fit.family)}, ${mm(report.fit.thickness, 2)} mm. The dashed line on each scale is the wanted clearance, the bar is what was cut.</p>
<div class="wide"><table><thead><tr><th>joint</th><th>plates</th><th class="n">wanted mm</th><th class="n">as cut mm</th><th>range</th><th>verdict</th></tr></thead><tbody>
${jointRows(report) || '<tr><td colspan="6">No mates were given, so every joint is unknown.</td></tr>'}
</tbody></table></div>
<h2 id="forecast">What to expect at the bench</h2>
${forecastHtml(report)}
<h2 id="boards">Boards and programs</h2>
<p>Cutters: ${report.cutters.map((c) => `T${c.number} ${html(c.id)}, ${c.kind}, cuts ${c.diameter} mm at ${c.rpm} rev/min`).join('; ')}.</p>
${machineHtml(report)}
${boards}
<h2 id="parts">Parts</h2>
<div class="wide"><table><thead><tr><th>part</th><th>board</th><th class="n">thickness mm</th><th class="n">size mm</th><th class="n">reliefs</th><th class="n">tabs found</th><th class="n">worst gouge mm</th><th class="n">left standing mm</th><th>drawing</th></tr></thead><tbody>${parts}</tbody></table></div>
<figure>${inline(pictures.parts)}<figcaption>The refitted parts, clearances and corner reliefs included, each seen from its cut face.</figcaption></figure>
<h2 id="rules">Rules</h2>
<p>Each is judged on the program's text, read back by a reader that shares nothing with the writer.</p>
<div class="wide"><table><thead><tr><th>board</th><th>rule</th><th>what it asks</th><th class="n">margin</th><th>verdict</th></tr></thead><tbody>
${ruleRows(report)}
</tbody></table></div>
<h2 id="said">Said on the way</h2>
${said.length === 0 ? '<p>Nothing.</p>' : `<ul>${said.map((d) => `<li><strong>${d.level}</strong> ${html([d.locus.file, d.locus.board && `board ${d.locus.board}`, d.locus.part && `part ${d.locus.part}`, d.locus.feature].filter(Boolean).join(', '))} ${html(d.message)} <span class="soft">${html(d.hint)}</span></li>`).join('')}</ul>`}
</main>${live ? `<script>${turntables.length > 0 ? TURNTABLE_SCRIPT : ''}${REPLAY_LOADER}</script>` : ''}</body></html>
`;
}
