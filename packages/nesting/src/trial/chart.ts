import { escaped } from './escaped.js';

/** One line of a chart. A step line holds its value until the next point; a gap in `y` leaves a gap in the line. */
export interface ChartLine {
  readonly name: string;
  readonly points: readonly { readonly x: number; readonly y: number | undefined }[];
  readonly steps?: boolean;
}

/** A chart of lines over one pair of axes. */
export interface Chart {
  readonly title: string;
  readonly xTitle: string;
  readonly yTitle: string;
  readonly lines: readonly ChartLine[];
  /** A level drawn across, such as the best known figure. */
  readonly level?: { readonly name: string; readonly y: number };
  /** Where the x axis begins; 0 unless said. */
  readonly from?: number;
  /** How far the x axis goes at least. */
  readonly to?: number;
  /** The range of the y axis, where it does not follow the figures. */
  readonly range?: readonly [number, number];
}

const [WIDTH, HEIGHT, LEFT, RIGHT, TOP, BOTTOM] = [760, 380, 64, 190, 40, 48];

/** Lines are told apart by dash and by marker, not by colour alone. */
const DASHES = ['', '8 4', '2 4', '12 4 2 4', '4 4', '1 3'];
const COLOURS = ['#1b4d3e', '#8a3b12', '#2b3a8c', '#6b1d5c', '#4a4a4a', '#7a6a00'];

/** Round numbers that divide a range into about five. */
export function ticksOf(low: number, high: number): number[] {
  const span = high - low || 1;
  const raw = span / 5;
  const power = 10 ** Math.floor(Math.log10(raw));
  const step = power * ([1, 2, 5, 10].find((m) => m * power >= raw) ?? 10);
  const out: number[] = [];
  for (let k = Math.ceil(low / step - 1e-9); k * step <= high + step * 1e-9; k++)
    out.push(Number((k * step).toPrecision(10)));
  return out;
}

const marker = (i: number, x: number, y: number, colour: string): string => {
  const shapes = [
    `<circle cx="${x}" cy="${y}" r="3.5" fill="${colour}"/>`,
    `<rect x="${x - 3.5}" y="${y - 3.5}" width="7" height="7" fill="${colour}"/>`,
    `<path d="M${x} ${y - 4.5}L${x + 4.5} ${y + 3.5}H${x - 4.5}Z" fill="${colour}"/>`,
  ];
  return shapes[i % shapes.length]!;
};

/** The chart as an SVG text, deterministic. Lines without a point are named in the legend as 'none'. */
export function drawChart(chart: Chart): string {
  const all = chart.lines.flatMap((l) => l.points).filter((p) => p.y !== undefined);
  const ys = [...all.map((p) => p.y!), ...(chart.level ? [chart.level.y] : [])];
  const xs = all.map((p) => p.x);
  const [x0, x1] = [chart.from ?? Math.min(0, ...xs), Math.max(chart.to ?? (chart.from ?? 0) + 1e-9, ...xs)];
  const [lo, hi] = ys.length > 0 ? [Math.min(...ys), Math.max(...ys)] : [0, 1];
  const pad = (hi - lo || 1) * 0.06;
  const [y0, y1] = chart.range ?? [lo - pad, hi + pad];
  const fix = (v: number): string => `${Math.round(v * 10) / 10}`;
  const px = (x: number): number => LEFT + ((x - x0) / (x1 - x0)) * (WIDTH - LEFT - RIGHT);
  const py = (y: number): number => HEIGHT - BOTTOM - ((y - y0) / (y1 - y0)) * (HEIGHT - TOP - BOTTOM);
  const out = [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${WIDTH} ${HEIGHT}" font-family="sans-serif" font-size="13" role="img" aria-label="${escaped(chart.title)}">`,
    `<rect width="${WIDTH}" height="${HEIGHT}" fill="#fff"/>`,
    `<text x="${LEFT}" y="22" font-size="15" font-weight="bold">${escaped(chart.title)}</text>`,
  ];
  for (const t of ticksOf(y0, y1))
    out.push(
      `<path d="M${LEFT} ${fix(py(t))}H${WIDTH - RIGHT}" stroke="#ddd"/><text x="${LEFT - 6}" y="${fix(py(t) + 4)}" text-anchor="end">${t}</text>`,
    );
  for (const t of ticksOf(x0, x1))
    out.push(
      `<path d="M${fix(px(t))} ${HEIGHT - BOTTOM}v5" stroke="#333"/><text x="${fix(px(t))}" y="${HEIGHT - BOTTOM + 20}" text-anchor="middle">${t}</text>`,
    );
  out.push(
    `<path d="M${LEFT} ${TOP}V${HEIGHT - BOTTOM}H${WIDTH - RIGHT}" fill="none" stroke="#333"/>`,
    `<text x="${(LEFT + WIDTH - RIGHT) / 2}" y="${HEIGHT - 8}" text-anchor="middle">${escaped(chart.xTitle)}</text>`,
    `<text transform="translate(16 ${(TOP + HEIGHT - BOTTOM) / 2}) rotate(-90)" text-anchor="middle">${escaped(chart.yTitle)}</text>`,
  );
  if (chart.level) {
    const y = fix(py(chart.level.y));
    out.push(
      `<path d="M${LEFT} ${y}H${WIDTH - RIGHT}" stroke="#000" stroke-width="1.5" stroke-dasharray="1 5"/><text x="${WIDTH - RIGHT + 8}" y="${y}" dy="4">${escaped(chart.level.name)}</text>`,
    );
  }
  chart.lines.forEach((line, i) => {
    const [colour, dash] = [COLOURS[i % COLOURS.length]!, DASHES[i % DASHES.length]!];
    let d = '';
    let last: number | undefined;
    for (const p of line.points) {
      if (p.y === undefined) {
        last = undefined;
        continue;
      }
      const [x, y] = [fix(px(p.x)), fix(py(p.y))];
      d += last === undefined ? `M${x} ${y}` : line.steps ? `H${x}V${y}` : `L${x} ${y}`;
      last = p.y;
    }
    if (line.steps && last !== undefined) d += `H${fix(px(x1))}`;
    if (d !== '')
      out.push(
        `<path d="${d}" fill="none" stroke="${colour}" stroke-width="2"${dash === '' ? '' : ` stroke-dasharray="${dash}"`}/>`,
      );
    const end = [...line.points].reverse().find((p) => p.y !== undefined);
    if (end) out.push(marker(i, px(end.x), py(end.y!), colour));
    const ly = TOP + 24 + i * 20 + (chart.level ? 20 : 0);
    out.push(
      `<path d="M${WIDTH - RIGHT + 8} ${ly}h28" stroke="${colour}" stroke-width="2"${dash === '' ? '' : ` stroke-dasharray="${dash}"`}/>`,
      marker(i, WIDTH - RIGHT + 22, ly, colour),
      `<text x="${WIDTH - RIGHT + 42}" y="${ly + 4}">${escaped(line.name)}${end ? '' : ' (none)'}</text>`,
    );
  });
  return `${out.join('\n')}\n</svg>\n`;
}
