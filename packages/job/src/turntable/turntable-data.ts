import type { Clip } from '@haunch/geometry';
import type { Master } from '@haunch/model';
import { offsetsApart } from '../assembly-picture/apart.js';
import { type Solid, solidsOfMaster } from '../assembly-picture/plate-solid.js';
import type { Vec } from '../assembly-picture/vec.js';
import { assemblySteps } from '../paper/assembly-steps.js';

/** A plate as the turntable reads it: places are indices into the list of places, three numbers each, in tenths of a millimetre. */
interface TurntablePart {
  readonly id: string;
  readonly name: string;
  /** Each side: its outward normal and its loops. */
  readonly faces: readonly {
    readonly n: readonly number[];
    readonly loops: readonly (readonly number[])[];
  }[];
  /** Each arris: two places, and of a smooth one the normals of the walls that meet in it. */
  readonly lines: readonly (readonly number[])[];
  /** How far it is moved when the piece is taken apart, mm. */
  readonly apart: readonly number[];
}

/** A piece for looking at from all sides. */
export interface TurntableData {
  readonly title: string;
  readonly points: readonly number[];
  readonly parts: readonly TurntablePart[];
  /** Each step: the parts that move by their index, the way, how far, and the step in words. */
  readonly steps: readonly {
    readonly moving: readonly number[];
    readonly standing: readonly number[];
    readonly way: readonly number[];
    readonly travel: number;
    readonly text: string;
  }[];
}

/** Curves are so many times coarser than in pictures, and small holes left out: the page stays small and turns smoothly. */
const COARSE = 4;

const thousandth = (v: number): number => Math.round(v * 1000) / 1000 + 0;

/** A piece's plates as solids, with its steps and how it comes apart; plain data for the page. mm */
export function turntableData(master: Master, clip: Clip): TurntableData {
  const solids: readonly Solid[] = solidsOfMaster(master, clip, COARSE);
  const offsets = offsetsApart(master, solids);
  const points: number[] = [];
  const places = new Map<string, number>();
  const place = (x: Vec): number => {
    const tenths = x.map((v) => Math.round(v * 10));
    const key = tenths.join(',');
    const known = places.get(key);
    if (known !== undefined) return known;
    const index = points.length / 3;
    points.push(...tenths);
    places.set(key, index);
    return index;
  };
  const parts = solids.map(
    (s): TurntablePart => ({
      id: s.id,
      name: master.parts.find((p) => p.id === s.id)?.name ?? s.id,
      faces: s.faces.map((f) => ({ n: f.normal.map(thousandth), loops: f.loops.map((l) => l.map(place)) })),
      lines: s.arrises.map((a) => [
        place(a.from),
        place(a.to),
        ...(a.smooth ? [...a.smooth[0], ...a.smooth[1]].map(thousandth) : []),
      ]),
      apart: offsets.get(s.id)!.map(thousandth),
    }),
  );
  const steps = assemblySteps(master, solids);
  const index = (id: string): number => solids.findIndex((s) => s.id === id);
  return {
    title: master.title,
    points,
    parts,
    steps: !steps.ok
      ? []
      : steps.value.map((s) => ({
          moving: s.moving.map(index),
          standing: s.standing.map(index),
          way: s.direction.map(thousandth),
          travel: thousandth(s.travel),
          text: s.text,
        })),
  };
}
