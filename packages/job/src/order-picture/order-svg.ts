import { curvesOfPart, labelPlace } from '@haunch/drawing';
import { type Box, flattenRing, type Ring, ringBounds } from '@haunch/geometry';
import type { Machine, Workingstep } from '@haunch/model';
import { escapeHtml as xml } from '../escape-html.js';
import type { MadeBoard } from '../make.js';
import { placeNumbers, type Spot } from './place-numbers.js';
import { type StepPaths, stepPaths } from './step-paths.js';

/** Letter height as a share of the board's longer side. */
const LETTER = 1 / 105;

const n = (v: number): string => String(Math.round(v * 100) / 100 + 0);
const drawn = (ring: Ring): string =>
  `${flattenRing(ring, { tolerance: 0.05 })
    .map((p, i) => `${i === 0 ? 'M' : 'L'}${n(p.x)} ${n(p.y)}`)
    .join('')}Z`;

/** How the sheet and the words round it share a picture. Board coordinates, y up; mm. */
interface Frame {
  readonly box: Box;
  readonly letter: number;
}

const styleOf = (h: number): string => `
.order text{font-family:system-ui,sans-serif;font-size:${n(h)}px;fill:#23211c}
.order .soft{fill:#6b6558}.order .small{font-size:${n(0.82 * h)}px}.order .head{font-weight:600}
.order .num{text-anchor:middle;font-weight:700;font-size:${n(0.86 * h)}px}
.order path,.order line,.order circle,.order rect{fill:none;stroke-linecap:butt;stroke-linejoin:round}
.order .sheet{fill:#f6efe0;stroke:#23211c;stroke-width:${n(0.1 * h)}}
.order .part{fill:#fffdf8;stroke:#b9af9b;stroke-width:${n(0.06 * h)}}
.order .keep-out{fill:url(#hatch);stroke:#6b6558;stroke-width:${n(0.08 * h)}}
.order .cut{stroke:#23211c;stroke-width:${n(0.13 * h)}}
.order .air{stroke:#3d5a73;stroke-width:${n(0.07 * h)};stroke-dasharray:${n(0.75 * h)} ${n(0.4 * h)}}
.order .entering{stroke:#9c2f16;stroke-width:${n(0.24 * h)};stroke-linecap:round;stroke-dasharray:0.01 ${n(0.42 * h)}}
.order .tab{fill:#fffdf8;stroke:#23211c;stroke-width:${n(0.1 * h)}}
.order .drill{stroke:#23211c;stroke-width:${n(0.13 * h)}}
.order .leader{stroke:#6b6558;stroke-width:${n(0.05 * h)}}
.order .flag{fill:#fffdf8;stroke:#23211c;stroke-width:${n(0.07 * h)}}
`;

const text = (x: number, y: number, words: string, cls = ''): string =>
  `<text x="${n(x)}" y="${n(y)}"${cls === '' ? '' : ` class="${cls}"`}>${xml(words)}</text>`;

/** A hole that is drilled: a circle and a cross. */
const drill = (x: number, y: number, r: number): string =>
  `<circle class="drill" cx="${n(x)}" cy="${n(y)}" r="${n(r)}"/><path class="drill" d="M${n(x - 1.6 * r)} ${n(y)}H${n(x + 1.6 * r)}M${n(x)} ${n(y - 1.6 * r)}V${n(y + 1.6 * r)}"/>`;

/** What each kind of line means, below the sheet. */
function legend(x: number, y: number, h: number): string {
  const sample = (cls: string, k: number): string =>
    `<path class="${cls}" d="M${n(x + k)} ${n(y - 0.35 * h)}h${n(4 * h)}"/>`;
  const widths = [17, 21, 22, 14, 13].map((w) => w * h);
  const starts = widths.map((_, i) => widths.slice(0, i).reduce((sum, w) => sum + w, 0));
  const words = [
    'cut, at its full depth',
    'travel above the sheet: dashes',
    'going down in the wood: dots',
    'tab: a box',
    'drilled: a cross',
  ];
  const marks = [
    sample('cut', 0),
    sample('air', starts[1]!),
    sample('entering', starts[2]!),
    `<path class="cut" d="M${n(x + starts[3]!)} ${n(y - 0.35 * h)}h${n(1.2 * h)}m${n(1.6 * h)} 0h${n(1.2 * h)}"/><rect class="tab" x="${n(x + starts[3]! + 1.2 * h)}" y="${n(y - 0.75 * h)}" width="${n(1.6 * h)}" height="${n(0.8 * h)}"/>`,
    drill(x + starts[4]! + 2 * h, y - 0.35 * h, 0.4 * h),
  ];
  return marks.map((m, i) => m + text(x + starts[i]! + 4.6 * h, y, words[i]!)).join('');
}

const seconds = (v: number | undefined): string =>
  v === undefined || v < 0.05 ? '' : v < 99.5 ? v.toFixed(1) : String(Math.round(v));

/** Columns of the table of steps: what stands in each, its width in letters, and whether it is a figure. */
const COLUMNS: readonly (readonly [string, number, (s: Workingstep, number: number) => string])[] = [
  ['', 3, (_, i) => String(i)],
  ['feature', 9, (s) => (s.feature.length > 14 ? `${s.feature.slice(0, 13)}…` : s.feature)],
  ['cut', 4, (s) => seconds(s.spent?.cutting)],
  ['enter', 3.6, (s) => seconds(s.spent?.entering)],
  ['air', 3.2, (s) => seconds(s.spent?.air)],
  ['change', 4.2, (s) => seconds(s.spent?.change)],
  ['wait', 3.4, (s) => seconds(s.spent?.dwell)],
];
const TABLE_WIDTH = COLUMNS.reduce((sum, [, w]) => sum + w, 0) + 2;

/** Where the seconds of every step go, in as many columns as the sheet is wide. */
function timeTable(steps: readonly Workingstep[], x: number, y: number, width: number, h: number) {
  const blocks = Math.max(1, Math.floor(width / (TABLE_WIDTH * h)));
  const rows = Math.ceil(steps.length / blocks);
  const row = 1.32 * h;
  let out = '';
  for (let b = 0; b < blocks && b * rows < steps.length; b++) {
    const left = x + (b * width) / blocks;
    const cells = (top: number, of: (c: (typeof COLUMNS)[number]) => string, cls: string): string => {
      let at = left;
      return COLUMNS.map((c, i) => {
        const [from, to] = [at, at + c[1] * h];
        at = to;
        const words = of(c);
        if (words === '') return '';
        return i === 1
          ? text(from + 0.6 * h, top, words, cls)
          : `<text x="${n(to)}" y="${n(top)}" text-anchor="end" class="${cls}">${xml(words)}</text>`;
      }).join('');
    };
    out += cells(y, ([name]) => name, 'small soft');
    steps.slice(b * rows, (b + 1) * rows).forEach((s, i) => {
      out += cells(y + (i + 1) * row, ([, , of]) => of(s, b * rows + i + 1), 'small');
    });
  }
  return { svg: out, height: (rows + 1) * row };
}

/** A scale bar of a round length. */
function scaleBar(x: number, y: number, width: number, h: number): string {
  const length = [2000, 1000, 500, 200, 100, 50, 20, 10].find((l) => l <= width / 5) ?? 10;
  const half = length / 2;
  return `<path class="cut" d="M${n(x)} ${n(y - 0.6 * h)}v${n(0.6 * h)}h${n(half)}v${n(-0.4 * h)}v${n(0.4 * h)}h${n(half)}v${n(-0.6 * h)}"/>${text(x + length + 0.6 * h, y, `${length} mm`)}`;
}

/** Holes and other small features, which a number would hide. */
const smallSteps = (paths: readonly StepPaths[], h: number): Spot[] =>
  paths.flatMap(({ drilled, extent }) => {
    if (extent === null) return drilled.map((at): Spot => ({ at, radius: 0.6 * h }));
    const { minX, minY, maxX, maxY } = extent;
    const radius = Math.hypot(maxX - minX, maxY - minY) / 2;
    return radius > 1.6 * h
      ? []
      : [{ at: { x: (minX + maxX) / 2, y: (minY + maxY) / 2 }, radius: radius + 0.15 * h }];
  });

/** The total of the table, in a sentence. */
function totals(steps: readonly Workingstep[]): string {
  const sum = (of: (s: Workingstep) => number | undefined): string =>
    `${(steps.reduce((t, s) => t + (of(s) ?? 0), 0) / 60).toFixed(1)} min`;
  return `${steps.length} steps, ${sum((s) => s.seconds)} as planned: cutting ${sum((s) => s.spent?.cutting)}, entering ${sum((s) => s.spent?.entering)}, air ${sum((s) => s.spent?.air)}, changes ${sum((s) => s.spent?.change)}, waiting ${sum((s) => s.spent?.dwell)}`;
}

/**
 * A board's workingsteps in their order, to scale: every step's cut with its number, ways through the air, descents and tabs told apart by the kind
 * of their line, with a legend, a scale, and a table of where each step's seconds go. SVG, mm, seen from above with X to the right.
 */
export function orderSvg(
  made: Pick<MadeBoard, 'board' | 'items' | 'plan'>,
  { zZero }: Pick<Machine, 'zZero'>,
): string {
  const { board, items, plan } = made;
  const frame: Frame = {
    box: ringBounds(board.outline),
    letter:
      LETTER *
      Math.max(
        ringBounds(board.outline).maxX - ringBounds(board.outline).minX,
        ringBounds(board.outline).maxY - ringBounds(board.outline).minY,
      ),
  };
  const { box, letter: h } = frame;
  const [width, height] = [box.maxX - box.minX, box.maxY - box.minY];
  const { steps } = plan.workplan;
  const paths = stepPaths(steps, plan.toolpath, zZero === 'bed' ? board.thickness : 0);
  const margin = 2 * h;
  // Words are written with y down, below the sheet's lower edge at y = height.
  const down = (y: number): number => box.maxY - y;
  const table = timeTable(steps, 0, height + 8.6 * h, width, h);
  const tall = height + 8.6 * h + table.height;
  const path = (cls: string, d: readonly string[]): string =>
    d.map((one) => `<path class="${cls}" d="${one}"/>`).join('');
  const tab = ({ at, width: w }: Workingstep['tabs'][number]): string =>
    `<rect class="tab" x="${n(at.x - w / 2)}" y="${n(at.y - w / 2)}" width="${n(w)}" height="${n(w)}"/>`;
  const radius = 0.82 * h;
  const places = placeNumbers(
    paths.map((p) => p.at),
    radius,
    { minX: box.minX - margin, minY: box.minY - margin, maxX: box.maxX + margin, maxY: box.maxY + margin },
    smallSteps(paths, h),
  );
  const flags = paths
    .map(({ number, at, step }, i) => {
      const place = places[i]!;
      const [x, y] = [place.at.x - box.minX, down(place.at.y)];
      const leader = place.led
        ? `<line class="leader" x1="${n(at.x - box.minX)}" y1="${n(down(at.y))}" x2="${n(x)}" y2="${n(y)}"/>`
        : '';
      return `${leader}<g><title>${xml(`${step.id}, ${step.kind}, ${step.cutter}`)}</title><circle class="flag" cx="${n(x)}" cy="${n(y)}" r="${n(radius)}"/>${text(x, y + 0.3 * h, String(number), 'num')}</g>`;
    })
    .join('');
  const names = items
    .map(({ item, part }) => {
      const { at } = labelPlace(part);
      return `<text class="soft" x="${n(at.x - box.minX)}" y="${n(down(at.y))}" text-anchor="middle" style="font-size:${n(1.5 * h)}px">${xml(item)}</text>`;
    })
    .join('');
  const title = `${board.id}: order of work, ${n(width)} × ${n(height)} mm`;
  return `<svg xmlns="http://www.w3.org/2000/svg" class="order" viewBox="${n(-margin)} ${n(-3.4 * h)} ${n(width + 2 * margin)} ${n(tall + 4.4 * h)}" role="img" aria-label="${xml(title)}">
<title>${xml(title)}</title><style>${styleOf(h)}</style>
<defs><pattern id="hatch" width="${n(0.8 * h)}" height="${n(0.8 * h)}" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path d="M0 0V${n(0.8 * h)}" style="stroke:#6b6558;stroke-width:${n(0.12 * h)}"/></pattern></defs>
${text(0, -1.4 * h, `${title}, as it lies on the machine, X to the right`, 'head')}
<g transform="matrix(1 0 0 -1 ${n(-box.minX)} ${n(box.maxY)})">
<path class="sheet" d="${drawn(board.outline)}"/>
${items
  .map(
    ({ part }) =>
      `<path class="part" d="${curvesOfPart(part)
        .map((c) => drawn(c.ring))
        .join('')}" fill-rule="evenodd"/>`,
  )
  .join('\n')}
${board.keepOuts.map((k) => `<path class="keep-out" d="${drawn(k)}"/>`).join('')}
${paths.map((p) => path('air', p.air)).join('')}
${paths.map((p) => path('cut', p.cut) + path('entering', p.entering) + p.drilled.map(({ x, y }) => drill(x, y, 0.35 * h)).join('')).join('\n')}
${steps.map((s) => s.tabs.map(tab).join('')).join('')}
</g>
${names}
${flags}
${scaleBar(0, height + 2.6 * h, width, h)}${text(width / 2.6, height + 2.6 * h, totals(steps))}
${legend(0, height + 5.2 * h, h)}
${text(0, height + 7.2 * h, 'Seconds of every step. The numbers are the order of work; each step is a re-entry point.', 'small soft')}
${table.svg}
</svg>
`;
}
