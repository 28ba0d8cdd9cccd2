import { type Clip, polygonRing, type Ring, rectangleRing, ring } from '@haunch/geometry';
import type { Board, Contour, Cutter, Fit, Holding, Joint, Machine, Part } from '@haunch/model';
import type { ProveInput } from '../src/index.js';

/** A rectangle whose edges are tagged e0 (bottom), e1 (right), e2 (top), e3 (left). */
export const tagged = (id: string, x0: number, y0: number, x1: number, y1: number): Ring =>
  ring(rectangleRing(x0, y0, x1, y1).vertices.map((v, i) => ({ ...v, tag: `${id}/e${i}` })));

export const contour = (id: string, r: Ring, bare = r): Contour => ({ id, ring: r, bare, reliefs: [] });

/** A plate of 100 × 60 at (50, 50) with a mortise of 40 × 18.1 for a plate of 18 mm. */
export const plate: Part = {
  kind: 'part',
  id: 'A',
  name: 'plate',
  thickness: 18,
  grain: null,
  cutFace: 'n+',
  showFace: null,
  stock: null,
  outline: contour('A', tagged('A', 50, 50, 150, 110)),
  through: [contour('A.m1', tagged('A.m1', 80, 70, 120, 88.1))],
  pockets: [],
  holes: [],
  from: [],
};

export const board: Board = {
  id: 'sheet-1',
  stock: 'sheet-1',
  outline: rectangleRing(0, 0, 200, 160),
  thickness: 18,
  readings: [{ thickness: 18 }],
  grain: null,
  keepOuts: [],
};

export const router: Cutter = {
  id: 'router-6',
  number: 1,
  kind: 'router',
  diameter: 6,
  flutes: 2,
  fluteLength: 25,
  upCutLength: null,
  rpm: 18000,
  chipLoad: 0.1,
  depthPerPass: 9,
  rampAngle: (5 * Math.PI) / 180,
  stickOut: 30,
  holderRadius: 20,
};

export const machine: Machine = {
  name: 'router',
  envelope: { x: [-20, 300], y: [-20, 300], z: [-5, 60] },
  clearance: 10,
  rapidRate: 15000,
  maxFeed: 8000,
  maxRpm: 24000,
  acceleration: 1000,
  zZero: 'bed',
  spoilboard: 0.5,
  spinUp: 5,
};

export const holding: Holding = {
  tabWidth: 8,
  tabHeight: 3,
  tabSpacing: 500,
  fewestTabs: 2,
  clearSlugsBelow: 10,
};

export const thickness: Fit = {
  id: 'M-A-B:A.m1:thickness',
  joint: 'M-A-B',
  kind: 'thickness',
  slotPart: 'A',
  contour: 'A.m1',
  walls: ['A.m1/e0', 'A.m1/e2'],
  enteringPart: 'B',
  enteringEdges: [],
  wanted: 0.1,
  window: [0.05, 0.15],
};

export const ends: Fit = {
  ...thickness,
  id: 'M-A-B:A.m1:ends',
  kind: 'ends',
  walls: ['A.m1/e1', 'A.m1/e3'],
  enteringEdges: ['B/e1', 'B/e3'],
  wanted: 0.2,
  window: [0.05, 0.45],
};

export const joint: Joint = {
  id: 'M-A-B',
  type: 'through mortise and tenon',
  slotPart: 'A',
  enteringPart: 'B',
  fits: [thickness],
};

/**
 * The program, one block a line: the mortise in two passes along its walls, clearing its middle first at each
 * depth (18.1 − 2·6 leaves 6.1 mm, two strokes), then the outline in two passes with two tabs on the long sides.
 * The cutter's radius is 3: the mortise's path is 83 … 117 × 73 … 85.1, the outline's 47 … 153 × 47 … 113.
 */
export const lines = (): string[] => [
  'G21 G90 G17 G94',
  'T1 M6',
  'S18000 M3',
  'G0 Z28',
  'G0 X86 Y78',
  'G1 Z18 F2000',
  ...[9, -0.2].flatMap((z) => mortise(z)),
  'G1 Z28 F4000',
  'G0 X47 Y60',
  'G1 Z18.2 F2000',
  // Down along the left side, then all round.
  'G1 Y113 Z13.6 F1500',
  'G1 Y60 Z9',
  ...round(9),
  'G1 Y113 Z4.4 F1500',
  'G1 Y60 Z-0.2',
  'G1 Y113 F3000',
  'G1 X89.8',
  'G1 X93 Z3',
  'G1 X107',
  'G1 X110.2 Z-0.2',
  'G1 X153',
  'G1 Y47',
  'G1 X110.2',
  'G1 X107 Z3',
  'G1 X93',
  'G1 X89.8 Z-0.2',
  'G1 X47',
  'G1 Y60',
  'G0 Z28',
  'M5',
  'M30',
];

const mortise = (z: number): string[] => {
  // 34 mm there and back for 9.2 mm at 8° would do; five strokes keep below 5°.
  const from = z === 9 ? 18 : 9;
  const step = (from - z) / 4;
  return [
    `G1 X114 Z${fixed(from - step)} F1500`,
    `G1 X86 Z${fixed(from - 2 * step)}`,
    `G1 X114 Z${fixed(from - 3 * step)}`,
    `G1 X86 Z${fixed(z)}`,
    `G1 X114 F3000`,
    'G1 Y80.2',
    'G1 X86',
    'G1 Y73',
    'G1 X83',
    'G1 Y85.1',
    'G1 X117',
    'G1 Y73',
    'G1 X83',
    'G1 X86 Y78',
  ];
};

const round = (z: number): string[] => [
  `G1 Y113 F3000`,
  'G1 X153',
  'G1 Y47',
  'G1 X47',
  `G1 Y60 Z${fixed(z)}`,
];
export const fixed = (v: number): string => String(Math.round(v * 1000) / 1000);

export const text = (l: readonly string[] = lines()): string => `${l.join('\n')}\n`;

/** Replaces every block equal to `old`; a mutant that changes nothing would prove nothing. */
export function swap(l: readonly string[], old: string, ...by: readonly string[]): string[] {
  if (!l.includes(old)) throw new Error(`no block '${old}'`);
  return l.flatMap((line) => (line === old ? by : [line]));
}

export const inputFor = (clip: Clip, program: string, change: Partial<ProveInput> = {}): ProveInput => ({
  text: program,
  board,
  items: [{ item: 'A', piece: 1, part: plate }],
  joints: [joint],
  thicknesses: { A: 18, B: 18 },
  cutters: [router],
  machine,
  holding,
  clip,
  ...change,
});

export { polygonRing };
