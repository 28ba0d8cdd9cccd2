import { type Ring, rectangleRing } from '@haunch/geometry';
import type { Board, Contour, Cutter, Holding, Machine, Part } from '@haunch/model';
import type { PlanInput } from '../src/index.js';

/** A 6 mm two-edged router, a 5 mm drill, and a machine of middling strength, for tests. */
export const ROUTER: Cutter = {
  id: 'router-6',
  number: 1,
  kind: 'router',
  diameter: 6,
  flutes: 2,
  fluteLength: 22,
  upCutLength: null,
  rpm: 18000,
  chipLoad: 0.15,
  depthPerPass: 6.5,
  rampAngle: (5 * Math.PI) / 180,
};
export const DRILL: Cutter = {
  ...ROUTER,
  id: 'drill-5',
  number: 2,
  kind: 'drill',
  diameter: 5,
  fluteLength: 40,
  rpm: 4000,
  chipLoad: 0.1,
  depthPerPass: 5,
};
export const MACHINE: Machine = {
  name: 'bench',
  envelope: { x: [-20, 2600], y: [-20, 1400], z: [-30, 60] },
  clearance: 15,
  rapidRate: 12000,
  maxFeed: 6000,
  maxRpm: 24000,
  acceleration: 800,
  zZero: 'top',
  spoilboard: 0.5,
  spinUp: 3,
};
export const HOLDING: Holding = {
  tabWidth: 6,
  tabHeight: 3,
  tabSpacing: 500,
  fewestTabs: 2,
  clearSlugsBelow: 10,
};

export const boardOf = (width: number, height: number, thickness = 18): Board => ({
  id: 'sheet-1',
  stock: 'ply',
  outline: rectangleRing(0, 0, width, height),
  thickness,
  readings: [],
  grain: null,
  keepOuts: [],
});

/** A ring with its edges tagged `id/e0` … */
export const tagged = (id: string, ring: Ring): Ring => ({
  vertices: ring.vertices.map((v, i) => ({ ...v, tag: `${id}/e${i}` })),
});

export const contourOf = (id: string, ring: Ring): Contour => {
  const bare = tagged(id, ring);
  return { id, ring: bare, bare, reliefs: [] };
};

export const partOf = (id: string, outline: Ring, more: Partial<Part> = {}): Part => ({
  kind: 'part',
  id,
  name: id,
  thickness: 18,
  grain: null,
  cutFace: 'n+',
  showFace: null,
  stock: null,
  outline: contourOf(id, outline),
  through: [],
  pockets: [],
  holes: [],
  from: [],
  ...more,
});

export const inputOf = (parts: readonly Part[], more: Partial<PlanInput> = {}): PlanInput => ({
  board: boardOf(2440, 1220),
  items: parts.map((part) => ({ item: part.id, part })),
  mating: new Set<string>(),
  cutters: [ROUTER, DRILL],
  machine: MACHINE,
  holding: HOLDING,
  ...more,
});
