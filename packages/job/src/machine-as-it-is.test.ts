/// <reference types="node" />
import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { machineAsItIs } from './diagnostics.js';
import type { Job } from './job.js';
import { asItIs } from './machine-as-it-is.js';
import { machineEffects } from './machine-effects.js';
import { prepareJob } from './make.js';

const folder = new URL('../../../docs/examples/sideboard/', import.meta.url);

it('a machine that is not true and is left alone is named as the cause, with the figure for each mate', async () => {
  const job = JSON.parse(readFileSync(new URL('job.json', folder), 'utf8'));
  const pitch = (axis: string, cut: number, measured: number) => ({ kind: 'pitch', axis, cut, measured });
  job.machine.calibration = {
    lengths: [
      pitch('x', 1000, 1000.5),
      pitch('y', 600, 600),
      { kind: 'diagonal', dx: 1000, dy: 600, measured: 1166.8 },
      { kind: 'diagonal', dx: 1000, dy: -600, measured: 1166.4 },
    ],
    programs: 'as it is',
  };
  const prepared = await prepareJob({
    text: JSON.stringify(job),
    file: 'job.json',
    source: (name) => (name.endsWith('.master.json') ? readFileSync(new URL(name, folder)) : undefined),
  });
  if (!prepared.ok) throw new Error(prepared.diagnostics[0]?.message);
  const said = prepared.diagnostics.filter((d) => d.code === 'job/machine-as-it-is');
  expect(said.map((d) => d.level)).toEqual(['warning']);
  expect(said[0]!.message).toMatch(
    /the calibration shows a machine that is not true.*M-[A-Z0-9-]+ by 0\.\d{3} mm/,
  );
  const { job: read, laid } = prepared.value;
  const first = /are off: (M-\S+) by (\d\.\d{3}) mm/.exec(said[0]!.message)!;
  // Half a millimetre in the metre along X, and by the diagonals (1166.8² - 1166.4²) / (4 · 1000 · 600) = 0.00039 out of square.
  const { length } = machineEffects(read, laid).find((e) => e.joint === first[1])!;
  expect(Number(first[2]) / length).toBeGreaterThan(0.00035);
  expect(Number(first[2]) / length).toBeLessThan(0.00055);

  // Neither a true machine nor corrected programs are warned of.
  const like = (change: Partial<Job['machine']['distortion']>): Job =>
    ({
      ...read,
      calibration: null,
      machine: { ...read.machine, distortion: { ...read.machine.distortion!, ...change } },
    }) as Job;
  expect(asItIs(like({ scaleX: 0, scaleY: 0, shear: 0 }), laid)).toEqual([]);
  expect(asItIs(like({}), laid).map((d) => d.code)).toEqual(['job/machine-as-it-is']);
  const { calibration } = read.settings.machine;
  const corrected = {
    ...read.settings,
    machine: { ...read.settings.machine, calibration: { ...calibration!, programs: 'correct' as const } },
  };
  expect(asItIs({ ...read, settings: corrected }, laid)).toEqual([]);
});

it('names eight mates and counts the others', () => {
  const mates = Array.from({ length: 10 }, (_, i) => ({ joint: `M${i}`, by: 0.2 - i / 100 }));
  const { message } = machineAsItIs(mates, { part: 'A', by: 0.25 }, 'job.json', 1);
  expect(message).toContain('M7 by 0.130 mm and 2 more');
  expect(message).toContain('edges of A come out up to 0.250 mm');
});
