import type { Block, PostMove, PostProcessor, PostState, Word } from '@haunch/model';
import { defineDialect } from '@haunch/nc/write';

/** A post with one fault, and the rule of the kit that must catch it. */
export interface BrokenPost {
  readonly fault: string;
  readonly rule: string;
  /** Made anew for every use, as some remember what they should not. */
  readonly make: () => PostProcessor;
}

/** The post that the broken ones are made from; it keeps every rule. */
export const soundPost = (): PostProcessor =>
  defineDialect({
    name: 'sound',
    dialect: {
      name: 'sound dialect',
      extension: 'nc',
      unit: 'mm',
      decimals: 4,
      feedDecimals: 1,
      arcs: {
        form: 'centre',
        centre: 'incremental',
        greatestSweep: 2 * Math.PI,
        helix: true,
        chordTolerance: 0.01,
      },
      modal: true,
      lineNumbers: null,
      blockLength: 120,
      comments: { open: '(', close: ')' },
    },
    start: ['({title})', 'G21 G17 G90 G94'],
    cutter: ['T{number} M6 ({id})'],
    spindle: { clockwise: 'S{rpm} M3', counterClockwise: 'S{rpm} M4', stop: 'M5' },
    dwell: 'G4 P{seconds}',
    note: '({text})',
    end: ['M30'],
  });

const code = (letter: string, value: number): Word => ({ letter, value, integer: true });
const isCode = (w: Word, letter: string, value: number): boolean => w.letter === letter && w.value === value;

/** Changes every block that a post writes for moves. */
const blocks =
  (change: (b: Block, m: PostMove, s: PostState) => Block | readonly Block[]): (() => PostProcessor) =>
  () => {
    const sound = soundPost();
    return {
      ...sound,
      move: (m, s, c) => sound.move(m, s, c).flatMap((b) => change(b, m, s)),
    };
  };

/** Changes every word that a post writes for moves; null leaves it out. */
const words = (change: (w: Word, m: PostMove) => Word | null): (() => PostProcessor) =>
  blocks((b, m) => ({ ...b, words: b.words.flatMap((w) => change(w, m) ?? []) }));

/** Changes what the sound post writes at its start or its end. */
const start =
  (change: (b: readonly Block[]) => readonly Block[]): (() => PostProcessor) =>
  () => {
    const sound = soundPost();
    return { ...sound, start: (c) => change(sound.start(c)) };
  };
const end =
  (change: (b: readonly Block[]) => readonly Block[]): (() => PostProcessor) =>
  () => {
    const sound = soundPost();
    return { ...sound, end: (s, c) => change(sound.end(s, c)) };
  };
const without =
  (letter: string, value: number) =>
  (all: readonly Block[]): readonly Block[] =>
    all.map((b) => ({ ...b, words: b.words.filter((w) => !isCode(w, letter, value)) }));

const dialect =
  (changes: Partial<PostProcessor['dialect']>): (() => PostProcessor) =>
  () => {
    const sound = soundPost();
    return { ...sound, dialect: { ...sound.dialect, ...changes } };
  };

/** A post that counts what it has written, and lets it show. */
function forgetful(): PostProcessor {
  const sound = soundPost();
  let written = 0;
  return {
    ...sound,
    move: (m, s, c) => {
      written++;
      const out = sound.move(m, s, c);
      // Once it has seen a long program, it leaves a feed out.
      return written < 400 || m.kind !== 'linear'
        ? out
        : out.map((b) => ({ ...b, words: b.words.filter((w) => w.letter !== 'F') }));
    },
  };
}

/** A post that holds each move back until it knows the next. */
function lookingAhead(): PostProcessor {
  const sound = soundPost();
  let held: readonly Block[] = [];
  return {
    ...sound,
    start: (c) => {
      held = [];
      return sound.start(c);
    },
    move: (m, s, c) => {
      const now = held;
      held = sound.move(m, s, c);
      return now;
    },
    end: (s, c) => [...held, ...sound.end(s, c)],
  };
}

function scribbling(): PostProcessor {
  const sound = soundPost();
  return {
    ...sound,
    move: (m, s, c) => {
      if (m.kind === 'note') (c.dialect as { modal: boolean }).modal = m.text.length % 2 === 0;
      return sound.move(m, s, c);
    },
  };
}

/** Posts with one fault each. */
export const BROKEN_POSTS: readonly BrokenPost[] = [
  {
    fault: 'is of a contract that is to come',
    rule: 'T01',
    make: () => ({ ...soundPost(), contract: 2 as 1 }),
  },
  { fault: 'has an ending with a dot', rule: 'T01', make: dialect({ extension: '.nc' }) },
  {
    fault: 'says centres are absolute and means them from the start of the arc',
    rule: 'T01',
    make: () => {
      const sound = soundPost();
      return { ...sound, dialect: { ...sound.dialect, arcs: { ...sound.dialect.arcs, centre: 'absolute' } } };
    },
  },
  { fault: 'remembers how much it has written', rule: 'T02', make: forgetful },
  {
    fault: 'throws at a dwell',
    rule: 'T03',
    make: blocks((b, m) => {
      if (m.kind === 'dwell') throw new Error('no dwell');
      return b;
    }),
  },
  {
    fault: 'writes G1 and G2 in one block',
    rule: 'T04',
    make: blocks((b, m) => (m.kind === 'circular' ? { ...b, words: [code('G', 1), ...b.words] } : b)),
  },
  { fault: 'says no unit', rule: 'T05', make: start(without('G', 21)) },
  {
    fault: 'says inches and writes millimetres',
    rule: 'T05',
    make: start((all) =>
      all.map((b) => ({ ...b, words: b.words.map((w) => (isCode(w, 'G', 21) ? code('G', 20) : w)) })),
    ),
  },
  {
    fault: 'rounds X to a tenth',
    rule: 'T06',
    make: words((w) => (w.letter === 'X' ? { ...w, value: Math.round(w.value * 10) / 10 } : w)),
  },
  {
    fault: 'swaps X and Y',
    rule: 'T06',
    make: words((w) => ({ ...w, letter: w.letter === 'X' ? 'Y' : w.letter === 'Y' ? 'X' : w.letter })),
  },
  {
    fault: 'turns the sign of Z',
    rule: 'T06',
    make: words((w) => (w.letter === 'Z' ? { ...w, value: -w.value } : w)),
  },
  {
    fault: 'leaves out cuts that go straight down',
    rule: 'T07',
    make: blocks((b, m, s) => (m.kind === 'linear' && m.x === s.x && m.y === s.y ? [] : b)),
  },
  {
    fault: 'goes home over the sheet at the end',
    rule: 'T07',
    make: end((all) => [
      { words: [code('G', 0), { letter: 'X', value: 0 }, { letter: 'Y', value: 0 }] },
      ...all,
    ]),
  },
  { fault: 'cuts by rapids', rule: 'T08', make: words((w) => (isCode(w, 'G', 1) ? code('G', 0) : w)) },
  {
    fault: 'turns arcs the other way',
    rule: 'T09',
    make: words((w, m) =>
      m.kind !== 'circular' ? w : isCode(w, 'G', 2) ? code('G', 3) : isCode(w, 'G', 3) ? code('G', 2) : w,
    ),
  },
  {
    fault: 'rounds centres to a hundredth',
    rule: 'T10',
    make: words((w) =>
      w.letter === 'I' || w.letter === 'J' ? { ...w, value: Math.round(w.value * 100) / 100 } : w,
    ),
  },
  {
    fault: 'swaps I and J',
    rule: 'T10',
    make: words((w) => ({ ...w, letter: w.letter === 'I' ? 'J' : w.letter === 'J' ? 'I' : w.letter })),
  },
  {
    fault: 'goes sideways before it has risen',
    rule: 'T11',
    make: blocks((b, m, s) =>
      m.kind === 'rapid' && s.z === null
        ? {
            words: [
              code('G', 0),
              { letter: 'X', value: m.x },
              { letter: 'Y', value: m.y },
              { letter: 'Z', value: m.z },
            ],
          }
        : b,
    ),
  },
  {
    fault: 'forgets feeds on arcs',
    rule: 'T12',
    make: words((w, m) => (m.kind === 'circular' && w.letter === 'F' ? null : w)),
  },
  {
    fault: 'feeds by the second instead of the minute',
    rule: 'T12',
    make: words((w) => (w.letter === 'F' ? { ...w, value: w.value / 60 } : w)),
  },
  {
    fault: 'turns the spindle the wrong way',
    rule: 'T13',
    make: words((w) => (isCode(w, 'M', 3) ? code('M', 4) : w)),
  },
  { fault: 'leaves the spindle standing', rule: 'T13', make: words((w) => (isCode(w, 'M', 3) ? null : w)) },
  {
    fault: 'writes S in hundreds',
    rule: 'T13',
    make: words((w) => (w.letter === 'S' ? { ...w, value: w.value / 100 } : w)),
  },
  {
    fault: 'counts cutters from nought',
    rule: 'T14',
    make: words((w) => (w.letter === 'T' ? { ...w, value: w.value - 1 } : w)),
  },
  {
    fault: 'names the cutter and never changes it',
    rule: 'T14',
    make: words((w) => (isCode(w, 'M', 6) ? null : w)),
  },
  {
    fault: 'changes cutters on a turning spindle',
    rule: 'T15',
    make: words((w, m) => (m.kind === 'cutter' && isCode(w, 'M', 5) ? null : w)),
  },
  { fault: 'never stops the spindle', rule: 'T15', make: words((w) => (isCode(w, 'M', 5) ? null : w)) },
  {
    fault: 'waits milliseconds for seconds',
    rule: 'T16',
    make: words((w) => (w.letter === 'P' ? { ...w, value: w.value * 1000 } : w)),
  },
  { fault: 'has no end', rule: 'T17', make: end(without('M', 30)) },
  {
    fault: 'goes on after its end',
    rule: 'T17',
    make: end((all) => [...all, { words: [code('G', 0), { letter: 'Z', value: 50 }] }]),
  },
  {
    fault: 'makes words of a note that looks like one',
    rule: 'T18',
    make: blocks((b, m) => (m.kind === 'note' && m.text === 'M30' ? { words: [code('M', 30)] } : b)),
  },
  { fault: 'trusts that distances are absolute', rule: 'T19', make: start(without('G', 90)) },
  { fault: 'trusts the plane', rule: 'T19', make: start(without('G', 17)) },
  { fault: 'trusts that feeds are by the minute', rule: 'T19', make: start(without('G', 94)) },
  {
    fault: 'numbers blocks itself, and badly',
    rule: 'T20',
    make: blocks((b) => ({ ...b, words: b.words.length > 0 ? [code('N', 10), ...b.words] : b.words })),
  },
  {
    fault: 'writes helices that it has not declared',
    rule: 'T21',
    make: () => {
      const sound = soundPost();
      const lowered = { ...sound.dialect, arcs: { ...sound.dialect.arcs, helix: false } };
      return {
        ...sound,
        dialect: lowered,
        // It makes an arc of its own of every long slanting cut.
        move: (m, s, c) =>
          m.kind === 'linear' &&
          s.x !== null &&
          s.y !== null &&
          s.z !== m.z &&
          Math.hypot(m.x - s.x, m.y - s.y) > 0.01
            ? [
                {
                  words: [
                    code('G', 2),
                    { letter: 'X', value: m.x },
                    { letter: 'Y', value: m.y },
                    { letter: 'Z', value: m.z },
                    { letter: 'I', value: (m.x - s.x) / 2 },
                    { letter: 'J', value: (m.y - s.y) / 2 },
                    { letter: 'F', value: m.feed },
                  ],
                },
              ]
            : sound.move(m, s, c),
      };
    },
  },
  {
    fault: 'opens remarks with a character that old controls do not know',
    rule: 'T22',
    make: dialect({ comments: { open: '«', close: '»' } }),
  },
  {
    fault: 'turns on cutter compensation',
    rule: 'T23',
    make: start((all) => [...all, { words: [code('G', 41), code('D', 1)] }]),
  },
  {
    fault: 'turns on a tool length of the table',
    rule: 'T23',
    make: blocks((b, m) => (m.kind === 'cutter' ? [b, { words: [code('G', 43), code('H', m.number)] }] : b)),
  },
  { fault: 'changes what it is given', rule: 'T24', make: scribbling },
  { fault: 'looks ahead', rule: 'T06', make: lookingAhead },
  {
    fault: 'waits for the operator unasked',
    rule: 'T25',
    make: blocks((b, m) => (m.kind === 'cutter' ? [b, { words: [code('M', 0)] }] : b)),
  },
  { fault: 'writes nothing', rule: 'T26', make: blocks(() => []) },
];
