import { polygonRing, rectangleRing } from '@haunch/geometry';
import type { Master, MasterPart, Part } from '@haunch/model';
import { describe, expect, it } from 'vitest';
import { markedMaster } from '../src/found/marked-master.js';
import { askPieces } from '../src/found/part-questions.js';
import { Asked } from '../src/found/questions.js';
import { atFrame, masterPart } from '../src/found/standing.js';
import type { Vec } from '../src/frame.js';
import { type FoundPiece, findMaster, type MateFindings } from '../src/index.js';
import { flat, rack } from './found-pieces.js';

const at = (part: string, x: number): FoundPiece['frames'][number] => ({
  part,
  piece: 0,
  frame: { origin: [x, 0, 0], u: [1, 0, 0], v: [0, 1, 0], n: [0, 0, 1] },
});

/** Five ways, in which what A may do depends on where B is. */
const WAYS = [
  [0, 0],
  [0, 100],
  [100, 200],
  [100, 300],
  [200, 0],
] as const;

const parts: Part[] = ['A', 'B', 'C'].map((id) => flat(id, 10, rectangleRing(0, 0, 50, 20)));
const findings: MateFindings = {
  kind: 'mate findings',
  frames: [],
  mates: [],
  loose: [],
  loops: 0,
  pieces: 1,
  questions: [
    {
      id: 'piece-0',
      text: 'There are five ways.',
      about: 'places',
      parts: ['A', 'B'],
      ways: WAYS.map(([a, b]) => ({ frames: [at('A', a), at('B', b), at('C', 900)], mates: [] })),
    },
  ],
};

const ask = (answers: Record<string, number>): Asked => {
  const asked = new Asked(answers);
  askPieces(parts, findings, asked);
  return asked;
};

describe('questions about where parts stand', () => {
  it('are asked of the parts that stand in several places, and of no other', () => {
    expect(ask({}).open.map((q) => [q.id, q.choices.length])).toEqual([
      ['stands-A', 3],
      ['stands-B', 4],
    ]);
  });

  it('keep their numbers when another is answered, and say what no longer goes with it', () => {
    const { open } = ask({ 'stands-A': 2 });
    expect(open.map((q) => q.id)).toEqual(['stands-B']);
    expect(open[0]!.choices.map((c) => c.endsWith('(not with the other answers)'))).toEqual([
      true,
      true,
      false,
      false,
    ]);
  });

  it('are not asked of what the other answers leave open no more', () => {
    expect(ask({ 'stands-A': 3 }).open).toEqual([]);
    expect(ask({ 'stands-A': 3 }).blocking).toEqual([]);
    // An answer given beforehand to what is settled now is no stray, as long as it agrees.
    const both = ask({ 'stands-A': 3, 'stands-B': 1 });
    expect([both.open, both.refused, both.strays]).toEqual([[], [], []]);
    expect(ask({ 'stands-A': 3, 'stands-B': 2 }).refused.map((d) => d.code)).toEqual(['mates/answers-clash']);
  });

  it('refuse an answer that leaves no way beside the others', () => {
    const { refused } = ask({ 'stands-A': 2, 'stands-B': 1 });
    expect(refused.map((d) => [d.code, d.locus.path])).toEqual([['mates/answers-clash', 'answers.stands-B']]);
  });
});

it('a part that stands in some of the ways only is asked about as well', () => {
  const some: MateFindings = {
    ...findings,
    questions: [
      {
        ...findings.questions[0]!,
        ways: findings.questions[0]!.ways.map((w, k) =>
          k === 0 ? { ...w, frames: w.frames.filter((f) => f.part !== 'B') } : w,
        ),
      },
    ],
  };
  const asked = new Asked({});
  askPieces(parts, some, asked);
  expect(asked.open.find((q) => q.id === 'stands-B')?.choices).toContain('B stands nowhere in the piece');
});

describe('an edge on the faces of two plates', () => {
  const stand = (p: Part, origin: Vec, u: Vec, v: Vec, n: Vec): MasterPart =>
    atFrame({ ...masterPart(p), hold: 'n-' }, { origin, u, v, n });
  const board = (id: string): Part =>
    flat(
      id,
      10,
      polygonRing([
        { x: 0, y: 0 },
        { x: 100, y: 0 },
        { x: 100, y: 40 },
        { x: 0, y: 40 },
      ]),
    );
  const wall = flat('wall', 10, rectangleRing(-50, -50, 150, 60), [rectangleRing(0, 0, 80, 10)]);
  // Two boards side by side through one slot: its upper wall lies on both.
  const master: Master = {
    format: 'haunch-master',
    version: 1,
    title: 'two boards in one slot',
    units: 'mm',
    designThickness: 10,
    marks: [],
    parts: [
      stand(wall, [0, 0, 0], [0, 1, 0], [0, 0, 1], [1, 0, 0]),
      stand(board('A'), [-20, 0, 0], [1, 0, 0], [0, 1, 0], [0, 0, 1]),
      stand(board('B'), [-20, 40, 0], [1, 0, 0], [0, 1, 0], [0, 0, 1]),
    ],
    mates: [],
    assembly: [],
  };
  const terms = (answers: Record<string, number>) => {
    const asked = new Asked(answers);
    const marked = markedMaster(master, {}, answers, asked);
    const on = marked.found.find((f) => f.edge === 'wall.c1/e2')?.mark;
    return {
      codes: marked.said.map((d) => d.code),
      open: asked.open.map((q) => [q.id, q.taken]),
      terms: marked.master.marks.find((m) => m.id === on)?.terms,
    };
  };

  it('follows the first, is warned of, and is asked about', () => {
    expect(terms({})).toEqual({
      codes: ['mates/mark-doubtful'],
      open: [['edge-wall.c1/e2', 1]],
      terms: { A: 1 },
    });
  });

  it('follows the one that is meant once somebody says which', () => {
    expect(terms({ 'edge-wall.c1/e2': 2 })).toEqual({ codes: [], open: [], terms: { B: 1 } });
  });
});

describe('what cannot be meant', () => {
  const codesOf = (o: { readonly diagnostics: readonly { readonly code: string }[] }): string[] =>
    o.diagnostics.map((d) => d.code);
  const at = (t: number): Part[] => rack(12, 0.2).map((p) => ({ ...p, thickness: t }));

  it.each([12.4, 13, 18])('a rack drawn for 12 mm given as %d mm: it is said, and nothing is asked', (t) => {
    const found = findMaster(at(t), { from: 'rack.dxf' });
    expect(found.ok).toBe(false);
    expect(codesOf(found)).toContain('mates/thickness-fits-nothing');
    expect(found.diagnostics.find((d) => d.code.endsWith('fits-nothing'))!.message).toMatch(
      /12 mm \(\d+ steps\)/,
    );
  });

  it('is asked about where the thickness fits', () => {
    const found = findMaster(at(12), { from: 'rack.dxf' });
    expect(found.ok && found.value.questions.length).toBe(1);
    expect(codesOf(found)).not.toContain('mates/thickness-fits-nothing');
  });

  it.each(['bogus', 'hold-nobody', 'piece-x', 'joint-left-nobody', 'edge-nobody.c1/e0'])(
    'an answer to %s, while another question is open',
    (id) => {
      const found = findMaster(at(12), { from: 'rack.dxf', answers: { [id]: 1 } });
      expect(codesOf(found).filter((c) => c === 'mates/no-such-question')).toHaveLength(1);
      expect(found.ok).toBe(false);
    },
  );

  it.each(['hold-left', 'up-0', 'edge-left.c1/e0', 'loose-left'])(
    'an answer to %s is kept until it is asked',
    (id) => {
      const found = findMaster(at(12), { from: 'rack.dxf', answers: { [id]: 1 } });
      expect(found.ok).toBe(true);
    },
  );
});
