/// <reference types="node" />
import { readFileSync } from 'node:fs';
import { loadClip } from '@haunch/geometry';
import { MasterSchema } from '@haunch/model';
import { describe, expect, it } from 'vitest';
import { offsetsApart, offsetsStepByStep } from './apart.js';
import { extentAlong, movedSolid, solidsOfMaster } from './plate-solid.js';
import type { Vec } from './vec.js';

const clip = await loadClip();
const sideboard = MasterSchema.parse(
  JSON.parse(
    readFileSync(
      new URL('../../../../docs/examples/sideboard/sideboard-18.master.json', import.meta.url),
      'utf8',
    ),
  ),
);
const solids = solidsOfMaster(sideboard, clip);
const tidy = (v: Vec) => v.map((x) => Math.round(x * 1e6) / 1e6 + 0);

describe('plates moved apart', () => {
  it('go back along their moves and push ahead what was taken off before', () => {
    // By hand from the sideboard's nine steps: RL, S1 and the dividers rise by 60, 60 and 120, and what is above them with them.
    const offsets = Object.fromEntries([...offsetsApart(sideboard, solids)].map(([id, v]) => [id, tidy(v)]));
    expect(offsets).toEqual({
      PL: [0, 0, 0],
      S1: [0, 0, 60],
      RL: [0, 0, 60 + 60],
      D1: [0, 0, 120 + 60 + 60],
      D2: [0, 0, 120 + 60 + 60],
      S2: [0, -340, 120 + 60 + 60],
      EL: [-80, 0, 0],
      ER: [80, 0, 0],
      BR: [0, 0, 160 + 120 + 60 + 60],
      TOP: [0, 0, 80 + 160 + 120 + 60 + 60],
      S3: [0, -400, 0],
    });
  });

  it('touch each other nowhere', () => {
    const offsets = offsetsApart(sideboard, solids);
    const boxes = solids.map((s) => {
      const moved = movedSolid(s, offsets.get(s.id)!);
      return {
        id: s.id,
        extents: (
          [
            [1, 0, 0],
            [0, 1, 0],
            [0, 0, 1],
          ] as const
        ).map((axis) => extentAlong(moved, axis)),
      };
    });
    const touching = boxes.flatMap((a, i) =>
      boxes
        .slice(i + 1)
        .filter((b) => a.extents.every((e, k) => e[0] <= b.extents[k]![1] && b.extents[k]![0] <= e[1]))
        .map((b) => `${a.id} ${b.id}`),
    );
    expect(touching).toEqual([]);
  });

  it('stay where they are when there is no assembly, and take no notice of steps out of order', () => {
    const none = offsetsApart({ ...sideboard, assembly: [] }, solids);
    expect([...none.values()]).toEqual(solids.map(() => [0, 0, 0]));
    const shuffled = offsetsApart({ ...sideboard, assembly: [...sideboard.assembly].reverse() }, solids);
    expect(shuffled).toEqual(offsetsApart(sideboard, solids));
  });

  it('pass over the names of parts that are not there', () => {
    const strange = {
      ...sideboard,
      assembly: sideboard.assembly.map((s) => ({ ...s, moving: [...s.moving, 'nobody'] })),
    };
    expect(offsetsApart(strange, solids)).toEqual(offsetsApart(sideboard, solids));
  });

  it('come together step by step: after each step nothing is moved that has gone home and waits for nobody', () => {
    const states = offsetsStepByStep(sideboard.assembly, solids);
    expect(states).toHaveLength(sideboard.assembly.length + 1);
    expect(states[0]).toEqual(offsetsApart(sideboard, solids));
    expect(new Set([...states.at(-1)!.values()].map((v) => v.join()))).toEqual(new Set(['0,0,0']));
    // The last step by hand: S3 alone is still 400 mm before its place.
    const last = [...states.at(-2)!]
      .filter(([, v]) => v.some((x) => x !== 0))
      .map(([id, v]) => [id, tidy(v)]);
    expect(last).toEqual([['S3', [0, -400, 0]]]);
  });
});
