import type { Master } from '@haunch/model';
import { refitMaster } from '../src/index.js';
import { all, copy, demo, type Spoilable, valueIn } from './demo.js';

type Draft = Spoilable<Master>;
type DraftPart = Draft['parts'][number];

const partOf = (m: Draft, id: string): DraftPart => m.parts.find((p) => p.id === id)!;
const loopOf = (p: DraftPart, id: string): DraftPart['outline'] =>
  id === 'outline' ? p.outline : [...p.through, ...p.pockets].find((c) => c.id === id)!.loop;

/** Moves every corner of a loop that is at one coordinate to another. */
function move(m: Draft, part: string, loop: string, axis: 0 | 1, from: number, to: number): void {
  const l = loopOf(partOf(m, part), loop);
  let hits = 0;
  for (const p of [l.start, ...l.segments.map((s) => s.to)])
    if (Math.abs(p[axis] - from) < 1e-6) {
      p[axis] = to;
      hits++;
    }
  if (hits === 0) throw new Error(`${part} ${loop} has no corner at ${from}`);
}

/** The least and most of a loop along one axis. */
export function span(m: Master, part: string, loop: string, axis: 0 | 1): [number, number] {
  const l = loopOf(m.parts.find((p) => p.id === part)! as DraftPart, loop);
  const at = l.segments.map((s) => s.to[axis]);
  return [Math.min(...at), Math.max(...at)];
}

/** One spoiled piece, and what it must be refused as. */
export interface Spoiled {
  readonly name: string;
  readonly code: string;
  /** Parts, joints or features that the refusal must name. */
  readonly names: readonly string[];
  readonly spoil: (m: Draft) => void;
}

function mirrorU(p: DraftPart): void {
  const us = p.outline.segments.map((s) => s.to[0]);
  const about = Math.min(...us) + Math.max(...us);
  for (const l of [p.outline, ...p.through.map((c) => c.loop), ...p.pockets.map((c) => c.loop)]) {
    l.start[0] = about - l.start[0];
    for (const s of l.segments) {
      s.to[0] = about - s.to[0];
      if (s.centre) s.centre[0] = about - s.centre[0];
      if (s.dir) s.dir = s.dir === 'cw' ? 'ccw' : 'cw';
    }
  }
}

/** Sound in each drawing, wrong as a piece: every one of these must be refused, and by its own name. */
export const ZOO: readonly Spoiled[] = [
  {
    name: 'a mortise 0.1 narrow for the plate',
    code: 'dryfit/narrow',
    names: ['EL.m1', 'M-EL-S1'],
    spoil: (m) => {
      const [low] = span(m as Master, 'EL', 'EL.m1', 1);
      move(m, 'EL', 'EL.m1', 1, low, low + 0.1);
    },
  },
  {
    name: 'a mortise 0.1 wide beside a sound twin',
    code: 'dryfit/loose',
    names: ['EL.m2', 'M-EL-S1'],
    spoil: (m) => {
      const [low] = span(m as Master, 'EL', 'EL.m2', 1);
      move(m, 'EL', 'EL.m2', 1, low, low - 0.1);
    },
  },
  {
    name: 'a mortise 3 wide beside a sound twin',
    code: 'dryfit/loose',
    names: ['EL.m2', 'M-EL-S1'],
    spoil: (m) => {
      const [low] = span(m as Master, 'EL', 'EL.m2', 1);
      move(m, 'EL', 'EL.m2', 1, low, low - 3);
    },
  },
  {
    name: 'a mortise 0.1 long for its tenon beside a sound twin',
    code: 'dryfit/loose',
    names: ['EL.m1', 'M-EL-S1'],
    spoil: (m) => {
      const [low] = span(m as Master, 'EL', 'EL.m1', 0);
      move(m, 'EL', 'EL.m1', 0, low, low - 0.1);
    },
  },
  {
    name: 'a lap too short',
    code: 'dryfit/short',
    names: ['M-D1-S2'],
    spoil: (m) => move(m, 'D1', 'outline', 0, 160, 155),
  },
  {
    name: 'a lap too deep',
    code: 'dryfit/no-stop',
    names: ['M-D1-S2'],
    spoil: (m) => move(m, 'D1', 'outline', 0, 160, 165),
  },
  {
    name: 'a lap 0.1 too deep',
    code: 'dryfit/loose',
    names: ['M-D1-S2'],
    spoil: (m) => move(m, 'D1', 'outline', 0, 160, 160.1),
  },
  {
    name: 'a slot shifted by 0.5',
    code: 'dryfit/shifted',
    names: ['S1.m1', 'M-S1-D1'],
    spoil: (m) => {
      const [low, high] = span(m as Master, 'S1', 'S1.m1', 0);
      move(m, 'S1', 'S1.m1', 0, high, high + 0.5);
      move(m, 'S1', 'S1.m1', 0, low, low + 0.5);
    },
  },
  {
    name: 'a housing in the wrong face',
    code: 'dryfit/wrong-face',
    names: ['TOP', 'TOP.h1'],
    spoil: (m) => {
      partOf(m, 'TOP').pockets[0]!.face = 'n+';
    },
  },
  {
    name: 'a housing 0.1 too shallow',
    code: 'dryfit/shallow',
    names: ['TOP.h2', 'M-TOP-D2'],
    spoil: (m) => {
      partOf(m, 'TOP').pockets[1]!.depth -= 0.1;
    },
  },
  {
    name: 'an end cut without mirroring',
    code: 'dryfit/unmirrored',
    names: ['ER'],
    spoil: (m) => mirrorU(partOf(m, 'ER')),
  },
  {
    name: 'an arc with a bad centre',
    code: 'dryfit/bad-arc',
    names: ['BR.c1'],
    spoil: (m) => {
      loopOf(partOf(m, 'BR'), 'BR.c1').segments.find((s) => s.centre)!.centre![1] += 0.4;
    },
  },
  {
    name: 'a thinner plate than its slots',
    code: 'dryfit/wrong-sheet',
    names: ['D1'],
    spoil: (m) => {
      partOf(m, 'D1').thickness = 17.6;
    },
  },
  {
    name: 'a thicker plate than its slots',
    code: 'dryfit/wrong-sheet',
    names: ['S2'],
    spoil: (m) => {
      partOf(m, 'S2').thickness = 19;
    },
  },
  {
    name: 'a step that comes too early',
    code: 'dryfit/step-blocked',
    names: ['BR', 'TOP'],
    spoil: (m) => {
      const [seven, eight] = [m.assembly[6]!, m.assembly[7]!];
      [seven.moving, eight.moving] = [eight.moving, seven.moving];
      [seven.move, eight.move] = [eight.move, seven.move];
      eight.fixed = [...seven.fixed, 'TOP'];
      eight.travel = seven.travel;
    },
  },
  {
    name: 'a left-handed frame',
    code: 'dryfit/left-handed',
    names: ['S3'],
    spoil: (m) => {
      partOf(m, 'S3').frame.n = '-Z';
    },
  },
  {
    name: 'an end that stands there twice',
    code: 'dryfit/doubled',
    names: ['EL', 'EL2'],
    spoil: (m) => {
      const twin = JSON.parse(JSON.stringify(partOf(m, 'EL'))) as DraftPart;
      twin.id = 'EL2';
      for (const c of [...twin.through, ...twin.pockets, ...twin.holes]) c.id = c.id.replace('EL', 'EL2');
      m.parts.push(twin);
    },
  },
  {
    name: 'a shelf through a divider without a slot',
    code: 'dryfit/interference',
    names: ['S3', 'D1'],
    spoil: (m) => {
      partOf(m, 'S3').frame.origin[0] += 30;
    },
  },
  {
    name: 'a part that is said to go in from where it cannot',
    code: 'dryfit/cannot-enter',
    names: ['M-EL-S1'],
    spoil: (m) => {
      const mate = m.mates.find((x) => x.id === 'M-EL-S1')!;
      mate.enteringMoves = '+Y';
    },
  },
  {
    name: 'a joint that is said to hold where it is open',
    code: 'dryfit/not-located',
    names: ['M-EL-RL'],
    spoil: (m) => {
      m.mates.find((x) => x.id === 'M-EL-RL')!.locates.push('+Y');
    },
  },
];

/** The sideboard, spoiled. */
export function spoiled({ spoil }: Spoiled): Master {
  const m = copy(demo);
  spoil(m);
  return m as Master;
}

/** The sideboard refitted to one thickness. */
export const refitted = (thickness: number): Master =>
  valueIn(refitMaster(demo, { thicknesses: all(demo, thickness) }));
