import { counterClockwise, type Point, type Ring, rectangleRing, subtractRings } from '@haunch/geometry';
import type { Master, Part } from '@haunch/model';
import type { BuilderRelief } from '../src/builders/built-joint.js';
import { atFrame, masterPart } from '../src/found/standing.js';
import { boxRound } from '../src/found/world.js';
import { cross, dot, type Frame, type Vec } from '../src/frame.js';
import { fingerRun } from '../src/index.js';
import { flat } from './found-pieces.js';

/** What a box of finger-jointed plates is made of. mm */
export interface FingerBox {
  /** Over all. */
  readonly size: readonly [x: number, y: number, z: number];
  /** Fingers and gaps of the edges along X, Y and Z. */
  readonly count: readonly [number, number, number];
  /** Of every plate, or of each by its name. */
  readonly thickness: number | Readonly<Record<string, number>>;
  readonly lid?: boolean;
  readonly ends?: number;
  readonly relief?: BuilderRelief | null;
}

/** Sides with the direction in which each looks; of two that meet the earlier one has the fingers at both ends. */
const SIDES: readonly (readonly [string, Vec, Vec, Vec])[] = [
  ['front', [0, -1, 0], [1, 0, 0], [0, 0, 1]],
  ['back', [0, 1, 0], [-1, 0, 0], [0, 0, 1]],
  ['left', [-1, 0, 0], [0, -1, 0], [0, 0, 1]],
  ['right', [1, 0, 0], [0, 1, 0], [0, 0, 1]],
  ['bottom', [0, 0, -1], [1, 0, 0], [0, -1, 0]],
  ['top', [0, 0, 1], [1, 0, 0], [0, 1, 0]],
];

/** The direction's axis. */
const axisOf = (v: Vec): 0 | 1 | 2 => v.findIndex((c) => c !== 0) as 0 | 1 | 2;

/** A box's plates as drawn, each from (0, 0), outer faces up, and the same as a master in their places without marks. */
export function fingerBox({ size, count, thickness, lid = false, ends = 0, relief = null }: FingerBox): {
  readonly parts: Part[];
  readonly master: Master;
} {
  const t = (id: string): number => (typeof thickness === 'number' ? thickness : thickness[id]!);
  const sides = SIDES.filter(([id]) => lid || id !== 'top');
  const placed = sides.map(([id, n, u, v], rank) => {
    const [width, height] = [size[axisOf(u)], size[axisOf(v)]] as const;
    /** A corner of the box towards −u, −v, and the plate's inner face. */
    const origin = [0, 1, 2].map((k) => {
      const towards = n[k]! - u[k]! - v[k]!;
      return (towards > 0 ? size[k]! : 0) - (n[k]! === 0 ? 0 : n[k]! * t(id));
    }) as unknown as Vec;
    const frame: Frame = { origin, u, v, n };
    const cuts = sides.flatMap(([other, m], k): Ring[] => {
      if (dot(n, m) !== 0) return [];
      const edge = axisOf(cross(n, m));
      const pair: [number, number] = rank < k ? [t(id), t(other)] : [t(other), t(id)];
      const joint = fingerRun({ thickness: pair, length: size[edge], count: count[edge], ends, relief });
      const at = (x: number, y: number): Point => {
        const w = [0, 0, 0];
        w[edge] = x;
        const a = axisOf(m);
        w[a] = m[a] > 0 ? size[a] - y : y;
        const d = w.map((c, i) => c - origin[i]!) as unknown as Vec;
        return { x: dot(d, u), y: dot(d, v) };
      };
      const o = at(0, 0);
      const [ex, ey] = [at(1, 0), at(0, 1)].map((p) => ({ x: p.x - o.x, y: p.y - o.y }));
      const turns = ex!.x * ey!.y - ex!.y * ey!.x;
      return (rank < k ? joint.slot : joint.entering).cut.map((r) =>
        counterClockwise({
          vertices: r.vertices.map((p) => ({
            ...p,
            ...at(p.x, p.y),
            ...('bulge' in p ? { bulge: p.bulge! * turns } : {}),
          })),
        }),
      );
    });
    const region = subtractRings([rectangleRing(0, 0, width, height)], cuts);
    if (region.length !== 1) throw new Error(`finger box: plate ${id} falls into ${region.length} pieces`);
    return { part: flat(id, t(id), region[0]!.outer), frame };
  });
  const parts = placed.map((p) => p.part);
  const master: Master = {
    format: 'haunch-master',
    version: 1,
    title: 'A box of fingers',
    units: 'mm',
    designThickness: t('front'),
    marks: [],
    parts: placed.map(({ part, frame }) => ({ ...atFrame(masterPart(part), frame), hold: 'n+' })),
    mates: [],
    assembly: [],
  };
  return { parts, master };
}

/** How many pairs of a box's plates meet: eight without a lid, twelve with one. */
export const edgesOfBox = (lid: boolean): number => (lid ? 12 : 8);

/** The box round a master's parts, from its least to its greatest coordinates. mm */
export const extents = (m: Master): number[] => {
  const { low, high } = boxRound(m.parts);
  return [0, 1, 2].map((k) => +(high[k]! - low[k]!).toFixed(4));
};
