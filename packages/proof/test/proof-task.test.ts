import { loadClip } from '@haunch/geometry';
import { describe, expect, it } from 'vitest';
import { type ProofTask, proveProgram, proveSequence, proveTask } from '../src/index.js';
import { inputFor, lines, text } from './plate.js';

const clip = await loadClip();

describe('a proof that is handed over', () => {
  const { clip: _, text: program, ...facts } = inputFor(clip, text(lines()));

  it('goes there and back as plain data, and is the same as one made here', () => {
    const task: ProofTask = { kind: 'program', input: { ...facts, text: program } };
    const there = structuredClone(proveTask(structuredClone(task), clip));
    const here = proveProgram({ ...facts, text: program, clip });
    expect(here.ok).toBe(true);
    expect(there).toEqual(here);
  });

  it('is one of several programs likewise', () => {
    const programs = [{ text: program, file: 'a.ngc' }];
    const task: ProofTask = { kind: 'sequence', input: { ...facts, programs } };
    expect(structuredClone(proveTask(structuredClone(task), clip))).toEqual(
      proveSequence({ ...facts, programs, clip }),
    );
  });
});
