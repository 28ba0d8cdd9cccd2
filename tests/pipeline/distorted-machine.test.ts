import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { layJob, loadPieces, makeJob, readJob, reportOf } from '@haunch/job';
import { describe, expect, it } from 'vitest';
import { ROOT } from '../architecture/source-file.js';
import { madeSideboard } from './sideboard.js';

/** What a machine with 0.05 % too much along X and a shear of 0.3 mrad shows on a calibration cut of 1000 × 600. */
const calibration = (programs: string) => {
  const [sx, shear] = [0.0005, 0.0003];
  const diagonal = (dx: number, dy: number) => ({
    kind: 'diagonal',
    dx,
    dy,
    measured: Math.hypot((1 + sx) * dx + shear * dy, dy),
  });
  return {
    lengths: [
      { kind: 'pitch', axis: 'x', cut: 1000, measured: 1000.5 },
      { kind: 'pitch', axis: 'x', cut: 100, measured: 100.05 },
      { kind: 'pitch', axis: 'y', cut: 600, measured: 600 },
      { kind: 'pitch', axis: 'x', cut: 200, measured: 200.16, approach: 'opposite' },
      { kind: 'pitch', axis: 'y', cut: 200, measured: 200.02, approach: 'opposite' },
      diagonal(1000, 600),
      diagonal(1000, -600),
    ],
    programs,
  };
};

describe('a machine that is not true', () => {
  it('is shown to spoil joints where its programs are left as they are, and mended where they are corrected', async () => {
    const left = await madeSideboard((j) => {
      j.machine.calibration = calibration('as it is');
    });
    expect(left.pass).toBe(false);
    const ends = left.joints.flatMap((j) => j.fits).filter((f) => f.least !== null);
    const off = Math.max(...ends.map((f) => Math.abs(f.least! - f.wanted)));
    // Half a millimetre in the metre, over parts of half a metre.
    expect(off).toBeGreaterThan(0.03);
    const corrected = await madeSideboard((j) => {
      j.machine.calibration = calibration('correct');
    });
    expect(corrected.boards.flatMap((b) => b.proof.rules.filter((r) => r.verdict === 'fail'))).toEqual([]);
    for (const f of corrected.joints.flatMap((j) => j.fits))
      if (f.least !== null) expect(Math.abs(f.least - f.wanted), f.fit).toBeLessThan(0.03);
    expect(corrected.pass).toBe(true);
    // What the machine does to each mate is shown whether or not programs are corrected, and is first-order arithmetic.
    const mates = [left, corrected].map((m) => reportOf(m).machine.mates);
    expect(mates[0]).toEqual(mates[1]);
    for (const m of mates[0]!) {
      const turned = m.turned > 0.1;
      expect(Math.abs(Math.abs(m.along) - (turned ? 0.0005 * m.length : 0)), m.joint).toBeLessThan(1e-3);
      expect(Math.abs(m.askew - 0.0003 * m.length), m.joint).toBeLessThan(1e-3);
      expect(m.backlash, m.joint).toBeLessThan(0.061);
    }
    expect(mates[0]!.filter((m) => m.turned > 0.1)).toHaveLength(10);
    expect(reportOf(left).machine.words.join(' ')).toContain('10 of 23 mates are turned');
    expect(reportOf(corrected).machine.words.join(' ')).toContain('Left alone, 23 of 23 mates would be off');
  }, 180_000);

  it('may leave its programs alone where no mate is turned, and says what is left', async () => {
    const folder = join(ROOT, 'docs/examples/pigeonholes');
    const job = JSON.parse(readFileSync(join(folder, 'job.json'), 'utf8'));
    job.machine = { ...job.machine, calibration: calibration('no turned mates') };
    for (const b of job.boards) b.grain = 'none';
    const source = (name: string) => {
      try {
        return readFileSync(join(folder, name));
      } catch {
        return undefined;
      }
    };
    const made = await makeJob({ text: JSON.stringify(job), file: 'job.json', source });
    if (!made.ok) throw new Error(JSON.stringify(made.diagnostics));
    const { machine } = reportOf(made.value);
    expect(made.value.pass).toBe(true);
    expect(machine.mates).toHaveLength(86);
    for (const m of machine.mates) {
      expect(m.turned, m.joint).toBeLessThan(1e-4);
      expect(m.along, m.joint).toBe(0);
    }
    expect(machine.words.join(' ')).toMatch(/What is left: up to 0\.02\d mm/);
    // Ten times as far out of square: that is said beforehand, before anything is planned.
    for (const d of job.machine.calibration.lengths)
      if (d.kind === 'diagonal') d.measured = Math.hypot(1.0005 * d.dx + 0.003 * d.dy, d.dy);
    const read = readJob(JSON.stringify(job), 'job.json', { source });
    if (!read.ok) throw new Error(JSON.stringify(read.diagnostics));
    const pieces = loadPieces(read.value, source);
    if (!pieces.ok) throw new Error(JSON.stringify(pieces.diagnostics));
    const askew = layJob(read.value, pieces.value);
    expect(askew.diagnostics.map((d) => d.code)).toContain('job/machine-left-over');
  }, 300_000);
});
