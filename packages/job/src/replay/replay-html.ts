import { curvesOfPart, labelPlace } from '@haunch/drawing';
import { flattenRing, type Ring, ringBounds } from '@haunch/geometry';
import type { Board, Cutter, DialectMeaning, Machine, Part } from '@haunch/model';
import { timeline } from '@haunch/proof';
import { escapeHtml } from '../escape-html.js';
import { type ReplayMove, replayMoves } from './replay-moves.js';
import { REPLAY_SCRIPT } from './replay-script.js';

/** What a replay shows. mm */
export interface ReplayInput {
  readonly title: string;
  /** The program as it is written to the file. */
  readonly text: string;
  readonly meaning?: DialectMeaning;
  readonly board: Board;
  readonly items: readonly { readonly item: string; readonly part: Part }[];
  readonly cutters: readonly Cutter[];
  readonly machine: Machine;
}

const STYLE = `
:root{color-scheme:light dark;--paper:#faf7f1;--ink:#23211c;--soft:#6b6558;--line:#b9af9b;--sheet:#efe3cc;--kerf:#4b3b2a;--part-way:#c9b291;--travel:#5a6b7d;--accent:#9c2f16}
@media (prefers-color-scheme:dark){:root{--paper:#1d1b17;--ink:#ece6d9;--soft:#a79f8e;--line:#5b5447;--sheet:#4a4132;--kerf:#0c0b09;--part-way:#76674e;--travel:#9db4cb;--accent:#f5a184}}
*{box-sizing:border-box}body{margin:0;background:var(--paper);color:var(--ink);font:17px/1.5 system-ui,sans-serif}
main{max-width:78rem;margin:0 auto;padding:1.2rem}h1{font-size:1.5rem;line-height:1.25;margin:.2rem 0 .6rem}
canvas{display:block;border:1px solid var(--line)}
.controls{display:flex;flex-wrap:wrap;gap:.6rem;align-items:center;margin:.8rem 0}
.controls input{flex:1 1 18rem;min-height:44px;accent-color:var(--accent)}
button,select{font:inherit;color:inherit;background:transparent;border:1px solid var(--line);border-radius:6px;min-height:44px;padding:.2rem .9rem}
:focus-visible{outline:3px solid var(--accent);outline-offset:2px}
#state{font-variant-numeric:tabular-nums;margin:.2rem 0 .8rem}
ol{list-style:none;margin:0;padding:0;font-family:ui-monospace,monospace;font-size:.95rem;max-width:60rem}
ol button{display:block;width:100%;min-height:32px;text-align:left;white-space:pre;overflow:hidden;text-overflow:ellipsis;border:0;border-left:4px solid transparent;border-radius:0;padding:.1rem .5rem}
ol button[aria-current]{border-left-color:var(--accent);font-weight:700}
.legend{display:flex;flex-wrap:wrap;gap:.4rem 1.6rem;color:var(--soft);padding:0;list-style:none;margin:.6rem 0}
.legend svg{vertical-align:middle;margin-right:.4rem}
.caution{border-left:4px solid var(--accent);padding:.3rem .8rem;max-width:60rem}
`;

const LEGEND = `<ul class="legend">
<li><svg width="44" height="14" aria-hidden="true"><path d="M5 7h34" stroke="var(--kerf)" stroke-width="10" stroke-linecap="round"/></svg>cut through</li>
<li><svg width="44" height="14" aria-hidden="true"><path d="M5 7h34" stroke="var(--kerf)" stroke-width="10" stroke-linecap="round"/><path d="M5 7h34" stroke="var(--part-way)" stroke-width="6" stroke-linecap="round"/></svg>cut part of the way, ramps too: a bright core</li>
<li><svg width="44" height="14" aria-hidden="true"><path d="M2 7h40" stroke="var(--travel)" stroke-width="1.5" stroke-dasharray="6 6"/></svg>travel above the sheet: dashes</li>
<li><svg width="24" height="24" aria-hidden="true"><path d="M2 12h20M12 2v20" stroke="var(--accent)" stroke-width="2"/><circle cx="12" cy="12" r="5" fill="none" stroke="var(--accent)" stroke-width="2"/></svg>the cutter</li>
</ul>`;

/** A ring as path data in its own frame, chords 0.05 mm fine: a picture shows no more. */
const drawn = (ring: Ring): string =>
  `${flattenRing(ring, { tolerance: 0.05 })
    .map((p, i) => `${i === 0 ? 'M' : 'L'}${p.x.toFixed(2)} ${p.y.toFixed(2)}`)
    .join('')}Z`;

/** All that a replay draws: the motions as they are read from the text, the sheet, and the parts that come out of it. mm */
export interface ReplayData {
  /** Where the first motion starts. */
  readonly start: readonly [number, number, number];
  readonly moves: readonly ReplayMove[];
  /** The program's lines. */
  readonly lines: readonly string[];
  /** Curves of parts as path data, Y up; the first of each part bears its name and where that stands. */
  readonly outlines: readonly {
    readonly path: string;
    readonly name: string;
    readonly at: readonly [number, number];
  }[];
  /** The sheet: least X and Y, greatest X and Y. */
  readonly board: readonly [number, number, number, number];
  /** Program heights of the sheet's top and of its bottom. */
  readonly top: number;
  readonly bottom: number;
}

/** Reads a program's text and gives what its replay draws; the plan is not asked. */
export function replayData({
  text,
  meaning,
  board,
  items,
  cutters,
  machine,
}: Omit<ReplayInput, 'title'>): ReplayData {
  const top = machine.zZero === 'top' ? 0 : board.thickness;
  const timed = timeline({
    text,
    cutters,
    machine,
    top,
    thickness: board.thickness,
    ...(meaning === undefined ? {} : { meaning }),
  });
  const box = ringBounds(board.outline);
  return {
    ...replayMoves(timed),
    lines: text.replace(/\n$/, '').split('\n'),
    outlines: items.flatMap(({ item, part }) =>
      curvesOfPart(part).map((c, k) => {
        const { at } = labelPlace(part);
        return { path: drawn(c.ring), name: k === 0 ? item : '', at: [at.x, at.y] as const };
      }),
    ),
    board: [box.minX, box.minY, box.maxX, box.maxY],
    top,
    bottom: top - board.thickness,
  };
}

/**
 * A page that replays a program: one file, no library, nothing fetched. What moves is read from the program's text,
 * not from the plan; a slider runs through the time, and the text stands below the picture, each line leading to
 * its moment.
 */
export const replayHtml = ({ title, ...input }: ReplayInput): string => replayPage(title, replayData(input));

/** The page that draws a replay. */
export function replayPage(title: string, data: ReplayData): string {
  const json = JSON.stringify(data).replaceAll('<', '\\u003c');
  const name = escapeHtml(title);
  return `<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width,initial-scale=1"><title>${name}</title><style>${STYLE}</style></head>
<body><main>
<h1>${name}</h1>
<div><canvas id="cut" role="img" aria-label="The board from above, cut as far as the time below says"></canvas></div>
<div class="controls">
<button type="button" id="play">Run</button>
<button type="button" id="back">One move back</button>
<button type="button" id="on">One move on</button>
<label for="time">Time</label><input id="time" type="range" min="0" value="0" step="1">
<label for="pace">Pace</label><select id="pace"><option value="1">as on the machine</option><option value="10" selected>10 times</option><option value="60">60 times</option></select>
</div>
<p id="state" role="status"></p>
<ol id="lines" aria-label="Program text"></ol>
${LEGEND}
<p class="caution">Read from the program's text. Waits and changes of the cutter take no time here. A replay shows where the cutter goes, not whether the work holds: run the program in the air first, and follow the machine's manual and your local rules.</p>
</main><script type="application/json" id="data">${json}</script><script>${REPLAY_SCRIPT}</script></body></html>
`;
}
