/// <reference types="node" />
import { readFileSync } from 'node:fs';
import type { Master } from '@haunch/model';
import { describe, expect, it } from 'vitest';
import { formatMaster } from '../format-master.js';
import { readMaster } from '../read-master.js';
import { refitMaster } from '../refit-master.js';
import { findMarks } from './find-marks.js';

const read = (path: string): Master => {
  const found = readMaster(readFileSync(new URL(`../../../../${path}`, import.meta.url), 'utf8'), path);
  if (!found.ok) throw new Error(found.diagnostics[0]?.message);
  return found.value;
};

/** The master without marks: nothing says any more what follows what. */
function stripped(master: Master): Master {
  const bare = <T extends { on?: unknown }>({ on: _, ...rest }: T) => rest;
  const loop = (l: Master['parts'][number]['outline']) => ({ ...l, segments: l.segments.map(bare) });
  return {
    ...master,
    marks: [],
    parts: master.parts.map((p) => ({
      ...p,
      frame: bare(p.frame),
      outline: loop(p.outline),
      through: p.through.map((c) => ({ ...c, loop: loop(c.loop) })),
      pockets: p.pockets.map((c) => ({ ...c, loop: loop(c.loop) })),
      holes: p.holes.map(bare),
    })),
  } as Master;
}

const numbers = (v: unknown): number[] =>
  typeof v === 'number' ? [v] : v !== null && typeof v === 'object' ? Object.values(v).flatMap(numbers) : [];

/** The greatest difference of the parts' curves and frames, mm. */
function apart(a: Master, b: Master): number {
  let most = 0;
  a.parts.forEach((p, i) => {
    const geometry = ({ frame, outline, through, pockets, holes }: Master['parts'][number]) =>
      numbers([
        frame.origin,
        outline,
        through.map((c) => c.loop),
        pockets.map((c) => [c.depth, c.loop]),
        holes,
      ]);
    const [x, y] = [geometry(p), geometry(b.parts[i]!)];
    expect(x).toHaveLength(y.length);
    x.forEach((n, k) => {
      most = Math.max(most, Math.abs(n - y[k]!));
    });
  });
  return most;
}

const at = (master: Master, factor: number) =>
  Object.fromEntries(master.parts.map((p, i) => [p.id, +(p.thickness * factor + (i % 3) * 0.1).toFixed(3)]));

describe.each([
  ['docs/examples/sideboard/sideboard-18.master.json', 0.97],
  ['docs/examples/sideboard/sideboard-18.master.json', 1.04],
  ['docs/examples/pigeonholes/pigeonholes.master.json', 0.96],
  ['docs/examples/pigeonholes/pigeonholes.master.json', 1.05],
  ['docs/examples/reading-stand/reading-stand.master.json', 17.4 / 18],
  ['docs/examples/reading-stand/reading-stand.master.json', 18.7 / 18],
])('marks found in %s', (path, factor) => {
  const master = read(path);
  const found = findMarks(stripped(master));

  it('asks nothing, and gives a master that can be read', () => {
    expect(found.questions).toEqual([]);
    expect(readMaster(formatMaster(found.master), path).ok).toBe(true);
  });

  it(`refit it to thicknesses about ${factor} of its own as the drawn marks do`, () => {
    const thicknesses = at(master, factor);
    const ours = refitMaster(found.master, { thicknesses });
    const drawn = refitMaster(master, { thicknesses });
    if (!ours.ok || !drawn.ok)
      throw new Error(
        [...ours.diagnostics, ...drawn.diagnostics]
          .map((d) => `${d.locus.part} ${d.locus.feature} ${d.message}`)
          .join('\n'),
      );
    expect(apart(ours.value, drawn.value)).toBeLessThan(0.001);
  });
});

it('refits the stripped sideboard to the 17.4 mm truth within a thousandth', () => {
  const found = findMarks(stripped(read('docs/examples/sideboard/sideboard-18.master.json')));
  const truth = read('tests/fixtures/sideboard/sideboard-17.4.truth.json');
  const ours = refitMaster(found.master, {
    thicknesses: Object.fromEntries(truth.parts.map((p) => [p.id, p.thickness])),
  });
  if (!ours.ok) throw new Error(ours.diagnostics[0]?.message);
  expect(apart(ours.value, truth)).toBeLessThanOrEqual(0.001);
});

it('gives every mark its reason', () => {
  const found = findMarks(stripped(read('docs/examples/sideboard/sideboard-18.master.json')));
  const reasons = new Set(found.found.map((f) => f.reason));
  expect([...reasons].sort()).toEqual(['corner', 'face', 'floor', 'flush', 'gap', 'kept', 'seat']);
  expect(found.found.find((f) => f.edge === 'S3.outline/e4')).toMatchObject({
    mark: 'X41+EL',
    reason: 'gap',
    with: 'EL',
  });
});
