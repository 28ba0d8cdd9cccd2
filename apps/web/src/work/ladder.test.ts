import { readFileSync } from 'node:fs';
import { readJob } from '@haunch/job';
import { describe, expect, it } from 'vitest';
import { feltText } from './ladder.js';
import type { FeltWords } from './service.js';

const example = (name: string) =>
  readFileSync(new URL(`../../../../docs/examples/reading-stand/${name}`, import.meta.url), 'utf8');
const { ladder: _, ...rest } = JSON.parse(example('job.json'));
const document = {
  id: 's1',
  text: JSON.stringify({ ...rest, lay: { effort: 20 }, ladder: { without: 'none has been cut yet' } }),
  sources: { 'reading-stand.master.json': new Blob([example('reading-stand.master.json')]) },
};
const felt = (answers: FeltWords['answers']): FeltWords => ({ board: 'sheet', cutter: 'router-6', answers });

describe('what was felt in a ladder', () => {
  it('stands in the job afterwards, with what the rungs were cut for, and takes the place of the reason why there was none', async () => {
    const typed = await feltText(
      document,
      felt([
        { rung: 'x3', felt: 'mallet' },
        { rung: 'x4', felt: 'hand' },
        { rung: 'x6', felt: 'rattles' },
      ]),
    );
    if (!typed.ok) throw new Error(typed.diagnostics.map((d) => d.message).join('\n'));
    const { ladder } = JSON.parse(typed.value);
    expect(ladder.answers).toHaveLength(3);
    expect(ladder.without).toBeUndefined();
    expect(ladder.cutFor.diameter).toBe(5.98);
    expect(ladder.cutFor.thickness).toBeCloseTo(17.8, 1);
    expect(ladder.cutFor.plug).toHaveLength(2);
    const read = readJob(typed.value);
    expect(read.ok && read.value.ladder.kind).toBe('felt');
  });

  it('is refused where it contradicts itself: a wider rung cannot be tighter', async () => {
    const typed = await feltText(
      document,
      felt([
        { rung: 'x3', felt: 'rattles' },
        { rung: 'x6', felt: "won't enter" },
      ]),
    );
    expect(typed.ok).toBe(false);
    expect(typed.diagnostics.some((d) => d.level === 'error')).toBe(true);
  });
});
