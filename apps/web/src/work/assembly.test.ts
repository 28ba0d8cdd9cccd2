import { loadClip } from '@haunch/geometry';
import { solidsOfMaster } from '@haunch/job';
import type { Axis, Master } from '@haunch/model';
import { describe, expect, it } from 'vitest';
import { drawnPlate } from './assembly.js';

const clip = await loadClip();
const loop = (...corners: readonly (readonly [number, number])[]) => ({
  start: corners[0]!,
  segments: [...corners.slice(1), corners[0]!].map((to) => ({ to })),
});
/** A plate of 100 × 60 × 10 with an opening of 20 × 20 and a pocket of 10 × 30, 4 deep, standing in some direction. */
const plate = (u: Axis, v: Axis, n: Axis) =>
  ({
    title: 'plate',
    marks: [],
    mates: [],
    assembly: [],
    parts: [
      {
        id: 'P',
        name: 'plate',
        thickness: 10,
        frame: { origin: [3, 5, 7], u, v, n },
        hold: 'n-',
        grain: 'none',
        showFace: 'n+',
        cutFace: 'n+',
        stock: 's',
        outline: loop([0, 0], [100, 0], [100, 60], [0, 60]),
        through: [{ id: 'P.m1', loop: loop([10, 10], [30, 10], [30, 30], [10, 30]) }],
        pockets: [{ id: 'P.h1', face: 'n+', depth: 4, loop: loop([50, 10], [60, 10], [60, 40], [50, 40]) }],
        holes: [],
      },
    ],
  }) as unknown as Master;

/** Volume by the divergence theorem, and area: right only when every triangle looks outward and none is missing. */
function measure(positions: Float32Array): { volume: number; area: number } {
  let [volume, area] = [0, 0];
  for (let i = 0; i < positions.length; i += 9) {
    const [ax, ay, az, bx, by, bz, cx, cy, cz] = positions.subarray(i, i + 9) as unknown as number[];
    const [ux, uy, uz, vx, vy, vz] = [bx! - ax!, by! - ay!, bz! - az!, cx! - ax!, cy! - ay!, cz! - az!];
    const [nx, ny, nz] = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
    volume += (ax! * nx + ay! * ny + az! * nz) / 6;
    area += Math.hypot(nx, ny, nz) / 2;
  }
  return { volume, area };
}

describe('a plate in space', () => {
  it.each([
    ['lying', '+X', '+Y', '+Z'],
    ['standing across', '+Y', '+Z', '+X'],
    ['standing along', '+X', '+Z', '-Y'],
    ['leaning', [0.8, 0, 0.6], '+Y', [-0.6, 0, 0.8]],
  ] as const)('%s is closed, looks outward everywhere and has its volume', (_, u, v, n) => {
    const [solid] = solidsOfMaster(plate(u as Axis, v as Axis, n as Axis), clip);
    const drawn = drawnPlate(solid!, 'plate');
    const { volume, area } = measure(drawn.positions);
    // By hand: 100·60·10 − 20·20·10 − 10·30·4, and the faces with the walls of outline, opening and pocket.
    expect(volume).toBeCloseTo(60_000 - 4_000 - 1_200, 0);
    expect(area).toBeCloseTo(2 * (6_000 - 400) + 3_200 + 800 + 320, 0);
    expect(drawn.normals).toHaveLength(drawn.positions.length);
  });
});
