import type { CurveStyle } from '../picture.js';

/** How a style of curve looks. Widths and dashes in screen pixels, so that they stay readable at any scale. */
interface Look {
  /** Words in the legend. */
  readonly words: string;
  readonly width: number;
  readonly dash?: string;
  readonly stroke: Ink;
  readonly fill: Ink | 'none' | 'hatch' | 'crosshatch';
  /** Its rules stand only in pictures that have such a curve. */
  readonly seldom?: true;
}

type Ink = 'ink' | 'faint' | 'paper' | 'wood' | 'rust' | 'slate';

/** Ink on paper by day, chalk on slate by night. */
const DAY: Readonly<Record<Ink, string>> = {
  ink: '#2d2a26',
  faint: '#8c8577',
  paper: '#f7f4ec',
  wood: '#e8dcc4',
  rust: '#8f3f22',
  slate: '#3d5566',
};
const NIGHT: Readonly<Record<Ink, string>> = {
  ink: '#e9e4d8',
  faint: '#8f897c',
  paper: '#1f1e1c',
  wood: '#3b352a',
  rust: '#dc8f6c',
  slate: '#93b1c4',
};

/** Line and hatch tell the styles apart; colour only helps. In the order of the legend. */
export const LOOKS: ReadonlyMap<CurveStyle, Look> = new Map<CurveStyle, Look>([
  ['board', { words: 'board', width: 1.2, dash: '14 4 2 4', stroke: 'faint', fill: 'none' }],
  ['outline', { words: 'outline', width: 1.7, stroke: 'ink', fill: 'wood' }],
  ['cut', { words: 'cut through', width: 1.1, stroke: 'ink', fill: 'paper' }],
  ['hole', { words: 'blind hole', width: 0.9, stroke: 'slate', fill: 'slate' }],
  ['pocket', { words: 'recess', width: 1.1, dash: '6 3', stroke: 'ink', fill: 'hatch' }],
  ['relief', { words: 'corner relief', width: 1, dash: '1.5 2', stroke: 'rust', fill: 'none' }],
  ['tab', { words: 'tab', width: 2, stroke: 'rust', fill: 'rust' }],
  ['path', { words: "cutter's path", width: 0.9, dash: '9 3', stroke: 'slate', fill: 'none' }],
  ['drawn', { words: 'as drawn', width: 1, stroke: 'ink', fill: 'none' }],
  ['left-out', { words: 'left out', width: 1, dash: '1.5 2.5', stroke: 'faint', fill: 'none' }],
  ['unclear', { words: 'not understood', width: 3, dash: '7 2', stroke: 'rust', fill: 'none' }],
  ['repair', { words: 'repaired', width: 1.2, stroke: 'slate', fill: 'none' }],
  ['keep-out', { words: 'keep out', width: 1.4, dash: '3 3', stroke: 'rust', fill: 'crosshatch' }],
  [
    'defect',
    { words: 'defect of one face', width: 1.4, dash: '1 3', stroke: 'slate', fill: 'none', seldom: true },
  ],
]);

function rules(
  looks: readonly (readonly [CurveStyle, Look])[],
  inks: Readonly<Record<Ink, string>>,
  scope: string,
  prefix: string,
): string[] {
  const fill = (f: Look['fill']): string =>
    f === 'none' ? 'none' : f === 'hatch' || f === 'crosshatch' ? `url(#${prefix}${f})` : inks[f];
  return [
    `${scope} .paper{fill:${inks.paper}}`,
    `${scope} text{fill:${inks.ink};stroke:${inks.paper}}`,
    `${scope} .hatching{stroke:${inks.ink};stroke-opacity:0.5;fill:none}`,
    ...looks.map(([style, l]) => `${scope} .${style}{stroke:${inks[l.stroke]};fill:${fill(l.fill)}}`),
  ];
}

/** The style sheet of a picture that uses some styles, for light and dark surroundings, valid under `scope` alone. */
export function styleSheet(scope: string, prefix: string, used: readonly CurveStyle[]): string {
  const looks = [...LOOKS].filter(([style, l]) => !l.seldom || used.includes(style));
  return [
    `${scope} path{vector-effect:non-scaling-stroke;stroke-linejoin:round;fill-rule:evenodd}`,
    `${scope} text{font-family:sans-serif;paint-order:stroke;stroke-linejoin:round}`,
    ...looks.map(
      ([style, l]) =>
        `${scope} .${style}{stroke-width:${l.width}${l.dash === undefined ? '' : `;stroke-dasharray:${l.dash}`}}`,
    ),
    ...rules(looks, DAY, scope, prefix),
    '@media (prefers-color-scheme:dark){',
    ...rules(looks, NIGHT, scope, prefix),
    '}',
  ].join('\n');
}
