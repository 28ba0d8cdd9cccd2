import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { makeJob } from '@haunch/job';
import { expect, it } from 'vitest';
import { SIDEBOARD, sideboardJob } from '../pipeline/sideboard.js';

/** The demo's job on a master whose text was changed. */
const makeFrom = (edit: (master: Record<string, any>) => void) => {
  const master = JSON.parse(readFileSync(join(SIDEBOARD, 'sideboard-18.master.json'), 'utf8'));
  edit(master);
  const job = sideboardJob();
  const text = JSON.stringify(master);
  return makeJob({ ...job, source: (name) => (name.endsWith('.master.json') ? text : job.source(name)) });
};

it('one edge without its mark is refused by joint, part and edge: its slot would not follow the sheet', async () => {
  const made = await makeFrom((m) => {
    delete m.parts[0].through[0].loop.segments[0].on;
  });
  expect(made.ok).toBe(false);
  expect(made.diagnostics.find((d) => d.level === 'error')).toMatchObject({
    code: 'refit/contact-lost',
    locus: { joint: 'M-EL-S1', part: 'EL', feature: 'EL.m1' },
  });
});

it('a master without any marks is refused for another sheet, not proved against nothing', async () => {
  const made = await makeFrom((m) => {
    m.marks = [];
    for (const p of m.parts) {
      delete p.frame.on;
      for (const l of [p.outline, ...p.through.map((t: any) => t.loop), ...p.pockets.map((t: any) => t.loop)])
        for (const s of l.segments) delete s.on;
      p.hold = 'n-';
    }
  });
  expect(made.ok).toBe(false);
  expect(new Set(made.diagnostics.filter((d) => d.level === 'error').map((d) => d.code))).toEqual(
    new Set(['refit/contact-lost']),
  );
});
