import { loadClip } from '@haunch/geometry';
import type { Proof } from '@haunch/model';
import { describe, expect, it } from 'vitest';
import { proveProgram, type ProveInput } from '../src/index.js';
import { inputFor, lines, text } from './plate.js';

const clip = await loadClip();

export function proof(program: string, change: Partial<ProveInput> = {}): Proof {
  const out = proveProgram(inputFor(clip, program, change));
  if (!out.ok) throw new Error(out.diagnostics.map((d) => d.message).join('; '));
  return out.value.proof;
}

describe('a sound program', () => {
  it('passes every rule', () => {
    const p = proof(text(lines()));
    expect(p.rules.filter((r) => r.verdict !== 'pass')).toEqual([]);
  });
});
