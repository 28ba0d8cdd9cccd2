/// <reference types="node" />
import { readFileSync } from 'node:fs';
import type { Master, Part } from '@haunch/model';
import { expect, it } from 'vitest';
import { findMaster, partsOfMaster, refitMaster } from '../src/index.js';
import { masterOf, valueIn } from './demo.js';

const drawn = masterOf(
  readFileSync(
    new URL('../../../docs/examples/pigeonholes/pigeonholes.master.json', import.meta.url),
    'utf8',
  ),
);

/** The corners of a part in words, alike whichever way round it lies square on the table. To 0.001 mm. */
function shape(p: Part): string {
  const corners = [p.outline, ...p.through, ...p.pockets].flatMap((c) => c.bare.vertices);
  return [1, -1]
    .flatMap((a) => [1, -1].flatMap((b) => [corners.map((v) => [a * v.x, b * v.y] as const)]))
    .map((all) => {
      const [x, y] = [0, 1].map((k) => Math.min(...all.map((v) => v[k]!)));
      return all
        .map((v) => `${(v[0] - x! + 1e-9).toFixed(3)},${(v[1] - y! + 1e-9).toFixed(3)}`)
        .sort()
        .join(' ');
    })
    .sort()[0]!;
}

/** Every part of a master with its plates so many times as thick. */
const shapes = (m: Master, times: number): string[][] => {
  const thicknesses = Object.fromEntries(m.parts.map((p) => [p.id, +(p.thickness * times).toFixed(4)]));
  return partsOfMaster(valueIn(refitMaster(m, { thicknesses }))).map((p) => [p.id, shape(p)]);
};

it('a rack of 45 parts found from its flat plates refits as its own drawn marks do', () => {
  // What of a plate stays is no matter of where it stands. Base and top are alike, so that either may be found below.
  const holds = new Map(
    drawn.parts.filter((p) => p.id !== 'BASE' && p.id !== 'TOP').map((p) => [p.id, p.hold]),
  );
  const found = valueIn(findMaster(partsOfMaster(drawn), { from: 'rack.dxf', holds, check: false }));
  for (const times of [0.95, 1.04]) expect(shapes(found.master!, times)).toEqual(shapes(drawn, times));
}, 120_000);
