import { JobCalibrationSchema } from '@haunch/job';
import { describe, expect, it } from 'vitest';
import type { JobText } from '../../job/job-document.js';
import { backlashOf, measuredOf, withBacklash, withMeasured } from './measured-lengths.js';

const job = { title: 't', machine: { zZero: 'bed' } } as unknown as JobText;
const typed = [
  { name: 'x', x: '1000 mm', y: '0 mm', measured: '1000.5 mm' },
  { name: 'up', x: '800 mm', y: '600 mm', measured: '1000.2 mm' },
  { name: 'down', x: '800 mm', y: '600 mm', measured: '999.9 mm' },
] as const;

describe('a machine that was measured', () => {
  it('stands in the job file as its schema wants it, and is shown as it was typed', () => {
    const { machine } = withMeasured(job, typed);
    expect(JobCalibrationSchema.parse(machine!.calibration).lengths).toMatchObject([
      { kind: 'pitch', axis: 'x', cut: 1000, measured: 1000.5 },
      { kind: 'diagonal', dx: 800, dy: 600 },
      { kind: 'diagonal', dx: 800, dy: -600 },
    ]);
    expect(machine!.zZero).toBe('bed');
    expect(measuredOf(machine!.calibration, 'mm').map((l) => [l.x, l.y, l.measured])).toEqual([
      ['1000', '0', '1000.5'],
      ['0', '', ''],
      ['800', '600', '1000.2'],
      ['800', '600', '999.9'],
    ]);
  });

  it('keeps lengths that have no field, and is forgotten whole', () => {
    const inside = { kind: 'inside', axis: 'x', cut: 100, measured: 100.1 } as const;
    const had = { ...job, machine: { calibration: { lengths: [inside, inside] } } } as unknown as JobText;
    const both = withMeasured(had, typed).machine!.calibration!.lengths;
    expect(both).toHaveLength(5);
    expect(both[4]).toEqual(inside);
    expect(withMeasured(had, null).machine).toEqual({});
  });

  it('has what it loses where it turns round beside its plain lengths, and forgets that alone', () => {
    const plain = withMeasured(job, typed);
    const lost = withBacklash(plain, 'x', '999.9 mm');
    const { calibration } = lost.machine!;
    expect(JobCalibrationSchema.parse(calibration).lengths.at(-1)).toEqual({
      kind: 'pitch',
      axis: 'x',
      cut: 1000,
      measured: 999.9,
      approach: 'opposite',
    });
    expect(backlashOf(calibration!, 'x')).toEqual({ cut: 1000, measured: 999.9 });
    expect(backlashOf(calibration!, 'y')).toEqual({ cut: null, measured: null });
    expect(measuredOf(calibration, 'mm')[0]!.measured).toBe('1000.5');
    expect(withBacklash(withBacklash(lost, 'x', '999.8 mm'), 'x', null)).toEqual(plain);
  });
});
