import { loadClip } from '@haunch/geometry';
import { describe, expect, it } from 'vitest';
import { proveOrRefuse, proveProgram } from '../src/index.js';
import { inputFor, lines, swap, text } from './plate.js';

const clip = await loadClip();
const proved = <T>(o: { ok: true; value: T } | { ok: false }): T => {
  if (!o.ok) throw new Error('nothing to judge');
  return o.value;
};

describe('proveOrRefuse', () => {
  it('gives a sound program the very same proof', () => {
    const input = inputFor(clip, text());
    expect(proved(proveOrRefuse(input))).toEqual(proved(proveProgram(input)));
  });

  it.each([
    ['motion alone', swap(lines(), 'S18000 M3', 'S18000 M4')],
    ['a wall', swap(lines(), 'G1 Y85.1', 'G1 Y85.2')],
    ['the end', lines().slice(0, -1)],
  ])('refuses by the first rule that the whole proof fails: %s', (_, program) => {
    const input = inputFor(clip, text(program));
    const first = proved(proveProgram(input)).proof.rules.find((r) => r.verdict === 'fail');
    expect(first).toBeDefined();
    expect(proved(proveOrRefuse(input))).toEqual({ refused: first });
  });

  it('fails where there is nothing to judge', () => {
    expect(proveOrRefuse(inputFor(clip, 'M30\n'))).toMatchObject({ ok: false });
  });
});
