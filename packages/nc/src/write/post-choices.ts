import type { ImpliedPoint, WordForm } from '@haunch/model';
import type { DialectDeclaration } from './define-dialect.js';

/** What a shop may choose in a dialect, where the dialect's control knows it. All may be left out. */
export interface PostChoices {
  readonly unit?: 'mm' | 'inch';
  /** Decimals of coordinates: a whole number from 0 to 6. */
  readonly decimals?: number;
  /** Numbers of blocks, such as { start: 10, step: 10 }. */
  readonly lineNumbers?: { readonly start: number; readonly step: number } | null;
  /** The greatest arc of one block: a whole turn, half or quarter turns; or arcs parted at the quadrants. */
  readonly arcs?: 'whole' | 'halves' | 'quarters' | 'quadrants';
  /** Arcs by their centre (I, J) or by their radius (R), the latter never near half a turn. */
  readonly arcWords?: 'centre' | 'radius';
  /** Centres from the arc's start or from the origin. */
  readonly centres?: 'incremental' | 'absolute';
  /** Arcs that climb; as chords when false. */
  readonly helix?: boolean;
  /** How far a chord may be off an arc that is lowered, mm. */
  readonly chordTolerance?: number;
  /** Repeat every word in every block. */
  readonly repeat?: boolean;
  /** Greatest length of a block in characters. */
  readonly blockLength?: number;
  /** How words are spelt. */
  readonly words?: WordForm;
  /** Holes as canned cycles (G81, G82) or as moves. */
  readonly drilling?: 'moves' | 'cycles';
  /** Lines of a percent sign round the program. */
  readonly percent?: boolean;
  /** The code that starts dust extraction with the spindle; M9 ends it. */
  readonly dust?: 'M7' | 'M8' | null;
  /** How a cutter is changed: in one block either way, in two, or with a stop after it. */
  readonly change?: 'T M6' | 'M6 T' | 'T, M6' | 'T M6, M0';
  /** How the program ends. */
  readonly end?: 'M2' | 'M30';
}

const SWEEPS = { whole: 2 * Math.PI, halves: Math.PI, quarters: Math.PI / 2, quadrants: 2 * Math.PI };

const isObject = (v: unknown): v is Record<string, unknown> =>
  typeof v === 'object' && v !== null && !Array.isArray(v);
const isWhole = (v: unknown, least: number, most: number): boolean =>
  Number.isInteger(v) && (v as number) >= least && (v as number) <= most;
const isFlag = (v: unknown): boolean => typeof v === 'boolean';

/** What an option must be: its values, or a test with its words. */
type Wanted = readonly unknown[] | { readonly is: (v: unknown) => boolean; readonly words: string };

const FLAG: Wanted = [true, false];
const WANTED: Readonly<Record<keyof PostChoices, Wanted>> = {
  unit: ['mm', 'inch'],
  decimals: { is: (v) => isWhole(v, 0, 6), words: 'a whole number from 0 to 6' },
  lineNumbers: {
    is: (v) => v === null || (isObject(v) && isWhole(v.start, 0, 99_999) && isWhole(v.step, 1, 99_999)),
    words: 'null, or a start from 0 and a step from 1, such as { "start": 10, "step": 10 }',
  },
  arcs: ['whole', 'halves', 'quarters', 'quadrants'],
  arcWords: ['centre', 'radius'],
  centres: ['incremental', 'absolute'],
  helix: FLAG,
  chordTolerance: {
    is: (v) => typeof v === 'number' && v > 0 && v < Infinity,
    words: 'a length in mm above zero',
  },
  repeat: FLAG,
  blockLength: { is: (v) => isWhole(v, 1, 100_000), words: 'a whole number of characters from 1' },
  words: {
    is: (v) => isObject(v) && Object.entries(v).every(([name, value]) => WORDS[name]?.(value) === true),
    words: `an object of ${['blanks', 'point', 'leadingZero', 'trailingZeros', 'implied'].join(', ')}`,
  },
  drilling: ['moves', 'cycles'],
  percent: FLAG,
  dust: ['M7', 'M8', null],
  change: ['T M6', 'M6 T', 'T, M6', 'T M6, M0'],
  end: ['M2', 'M30'],
};

const ZEROS: readonly ImpliedPoint['zeros'][] = ['all', 'leading dropped', 'trailing dropped'];
const WORDS: Readonly<Record<string, (v: unknown) => boolean>> = {
  blanks: isFlag,
  point: (v) => v === 'where needed' || v === 'always',
  leadingZero: isFlag,
  trailingZeros: isFlag,
  implied: (v) =>
    isObject(v) && isWhole(v.whole, 1, 6) && ZEROS.some((z) => z === v.zeros) && Object.keys(v).length === 2,
};

const listed = (values: readonly unknown[]): string => values.map((v) => JSON.stringify(v)).join(', ');

/**
 * Checks what a shop has chosen, which may come from a file; `more` are the dialect's own options beside the common ones.
 * @throws RangeError naming the option, when it is unknown to the dialect or its value is none of its.
 */
export function assertChoices(
  maker: string,
  choices: Readonly<Record<string, unknown>>,
  known: readonly (keyof PostChoices)[],
  more: Readonly<Record<string, readonly unknown[]>> = {},
): void {
  const names = [...known, ...Object.keys(more)];
  for (const [name, value] of Object.entries(choices)) {
    if (value === undefined) continue;
    const wanted = names.includes(name) ? (more[name] ?? WANTED[name as keyof PostChoices]) : undefined;
    if (wanted === undefined)
      throw new RangeError(`${maker}: it has no option '${name}'; its options are ${names.join(', ')}`);
    if ('is' in wanted ? wanted.is(value) : wanted.includes(value)) continue;
    throw new RangeError(
      `${maker}: ${name} is ${JSON.stringify(value)}; it must be ${'is' in wanted ? wanted.words : `one of ${listed(wanted)}`}`,
    );
  }
}

/** The blocks of a change of cutter in another form. */
function changed(blocks: readonly string[], form: PostChoices['change']): readonly string[] {
  const [first = '', ...others] = blocks;
  switch (form) {
    case 'M6 T':
      return [first.replace('T{number} M6', 'M6 T{number}'), ...others];
    case 'T, M6':
      return ['T{number}', first.replace('T{number} M6', 'M6'), ...others];
    case 'T M6, M0':
      return [...blocks, 'M0'];
    default:
      return blocks;
  }
}

/** A declaration with what a shop has chosen; what is left out stays as it is declared. The unit is the declaration's own affair. */
export function withChoices(base: DialectDeclaration, c: PostChoices): DialectDeclaration {
  const { dialect: d } = base;
  const words = c.words ?? d.words;
  const decimals = c.decimals ?? d.decimals;
  const implied = words?.implied;
  const centre = c.centres ?? d.arcs.centre;
  const meaning = {
    ...d.meaning,
    ...(c.centres === undefined ? {} : { centres: c.centres }),
    ...(implied ? { implied: { ...implied, decimals } } : {}),
  };
  const spindle = c.dust
    ? {
        clockwise: `${base.spindle.clockwise} ${c.dust}`,
        counterClockwise: `${base.spindle.counterClockwise} ${c.dust}`,
        stop: `${base.spindle.stop} M9`,
      }
    : base.spindle;
  return {
    ...base,
    dialect: {
      ...d,
      decimals,
      arcs: {
        ...d.arcs,
        centre,
        ...(c.arcs === undefined
          ? {}
          : { greatestSweep: SWEEPS[c.arcs], ...(c.arcs === 'quadrants' ? { quadrants: true } : {}) }),
        ...(c.arcWords === undefined ? {} : { form: c.arcWords }),
        ...(c.helix === undefined ? {} : { helix: c.helix }),
        ...(c.chordTolerance === undefined ? {} : { chordTolerance: c.chordTolerance }),
      },
      ...(c.repeat === undefined ? {} : { modal: !c.repeat }),
      ...(c.lineNumbers === undefined ? {} : { lineNumbers: c.lineNumbers }),
      ...(c.blockLength === undefined ? {} : { blockLength: c.blockLength }),
      ...(words === undefined ? {} : { words }),
      ...(c.drilling === undefined ? {} : { drilling: c.drilling }),
      ...(c.change === 'T M6, M0' ? { stopsAfterChange: true } : {}),
      ...(c.percent === undefined ? {} : { percent: c.percent }),
      ...(Object.keys(meaning).length === 0 ? {} : { meaning }),
    },
    spindle,
    cutter: changed(base.cutter, c.change),
    end: c.end === undefined ? base.end : [c.end],
  };
}
