import { describe, expect, it } from 'vitest';
import { madeSideboard } from './sideboard.js';

const ROUTER_3_8 = {
  id: 'compression',
  number: 1,
  kind: 'router',
  diameter: '0.375 in',
  flutes: 2,
  fluteLength: '30 mm',
  upCutLength: '6 mm',
  rpm: 18000,
  chipLoad: '0.008 in',
  depthPerPass: '10 mm',
};

describe('other sheets and cutters from the one master', () => {
  // Common practice, no source: drawings kept in steps of 0.010 in from 0.680 to 0.760 in round a nominal 3/4 in
  // sheet, a sheet that measured 0.731 in, a 3/8 in compression cutter. 10 mm holes are drilled then.
  it.each(['0.680 in', '0.731 in', '0.760 in'])(
    'a sheet of %s and a 3/8 in compression cutter',
    async (thickness) => {
      const made = await madeSideboard((job) => {
        for (const b of job.boards) b.readings = [thickness];
        job.ladder = { without: 'other sheets and cutters, in a test' };
        job.cutters = [
          ROUTER_3_8,
          job.cutters[1],
          { ...job.cutters[1], id: 'drill-10', number: 3, diameter: '10 mm' },
        ];
      });
      expect(made.boards.flatMap((b) => b.proof.rules.filter((r) => r.verdict === 'fail'))).toEqual([]);
      expect(made.joints.filter((j) => j.verdict !== 'as wanted')).toEqual([]);
    },
    180_000,
  );

  it('two sideboards: each part twice, each joint judged twice, every copy from its own board', async () => {
    const made = await madeSideboard((job) => {
      job.pieces[0].count = 2;
      job.boards[0].count = 3;
      job.boards[1].count = 2;
    });
    expect(made.boards.flatMap((b) => b.items)).toHaveLength(22);
    expect(made.joints).toHaveLength(46);
    expect(made.pass).toBe(true);
  }, 240_000);

  it('a measured cutter that differs moves the path, not the walls', async () => {
    const made = await madeSideboard((job) => {
      job.cutters[0].diameter = '5.80 mm';
    });
    for (const f of made.joints.flatMap((j) => j.fits))
      if (f.width !== null && f.kind === 'thickness')
        expect(f.width).toBeCloseTo((f.enteringPart === 'BR' ? 17.3 : 17.7) + 0.1, 2);
    expect(made.pass).toBe(true);
  }, 120_000);
});
