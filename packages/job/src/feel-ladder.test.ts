/// <reference types="node" />
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { feelLadder } from './feel-ladder.js';
import { readJob } from './job.js';

const text = readFileSync(new URL('../../../docs/examples/sideboard/job.json', import.meta.url), 'utf8');
// biome-ignore lint/suspicious/noExplicitAny: a job file's text, edited as a person would, before any schema has read it
const edited = (edit: (j: any) => void): string => {
  const j = JSON.parse(text);
  edit(j);
  return JSON.stringify(j);
};
const answers = [
  { rung: 'x3', felt: 'mallet' },
  { rung: 'x4', felt: 'hand' },
  { rung: 'x7', felt: 'rattles' },
];
const felt = (job: string, more: object = {}) => {
  const found = feelLadder(job, 'job.json', { board: 'sheet-1', cutter: 'router-6', answers, ...more });
  if (!found.ok) throw new Error(found.diagnostics[0]?.message);
  return found.value;
};
const snug = (job: string): number => {
  const read = readJob(job);
  if (!read.ok || read.value.ladder.kind !== 'felt') throw new Error('no ladder');
  return read.value.ladder.reading.snug;
};

describe('what a rung meant', () => {
  it('keeps the steps that the ladder was cut with', () => {
    const stepped = edited((j) => {
      j.ladder = { steps: { about: 0.2, step: 0.03 } };
    });
    const { text: written } = felt(stepped);
    expect(snug(written)).toBeCloseTo(0.2, 9);
    expect(JSON.parse(written).ladder.steps).toMatchObject({ about: 0.2, step: 0.03 });
  });

  it('does not follow the family or the clearance that the job is given later', () => {
    const { text: written } = felt(text);
    const later = JSON.parse(written);
    later.fit = { family: 'slip' };
    expect(snug(JSON.stringify(later))).toBeCloseTo(0.1, 9);
  });

  it('is the width that was really cut, when the cutter is found to be another size', () => {
    const later = JSON.parse(felt(text).text);
    later.cutters[0].diameter = '5.87 mm';
    // A cutter 0.10 smaller than assumed cut every rung 0.10 narrower.
    expect(snug(JSON.stringify(later))).toBeCloseTo(0, 9);
  });

  it('is measured against the sheet as it is known now', () => {
    const later = JSON.parse(felt(text).text);
    later.boards[0].readings = ['17.6 mm'];
    // The rungs were about 17.70 wide and more; of a sheet of 17.60 that is 0.10 more room.
    expect(snug(JSON.stringify(later))).toBeCloseTo(0.2, 2);
  });

  it('asks for answers where a ladder is only planned', () => {
    const planned = readJob(edited((j) => Object.assign(j, { ladder: { steps: { step: 0.03 } } })));
    expect(planned.diagnostics.map((d) => d.code)).toContain('job/no-ladder');
  });
});
