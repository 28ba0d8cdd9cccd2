import { loadClip } from '@haunch/geometry';
import type { Proof } from '@haunch/model';
import { describe, expect, it } from 'vitest';
import { type ProveInput, proveProgram, proveSequence, type SequenceProgram } from '../src/index.js';
import { inputFor, lines, router, swap, text } from './plate.js';

const clip = await loadClip();
const whole = lines();
/** The block by which the cutter rises from the mortise: what follows is the outline. */
const cutAt = whole.indexOf('G1 Z28 F4000') + 1;
const head = ['G21 G90 G17 G94', 'T1 M6', 'S18000 M3', 'G0 Z28'];
const mortise = [...whole.slice(0, cutAt), 'M5', 'M30'];
const outline = [...head, ...whole.slice(cutAt)];

const programs = (first = mortise, second = outline): SequenceProgram[] => [
  { text: text(first), file: 'one' },
  { text: text(second), file: 'two' },
];

function proof(sequence: readonly SequenceProgram[], change: Partial<ProveInput> = {}): Proof {
  const { text: _text, ...input } = inputFor(clip, '', change);
  const out = proveSequence({ ...input, programs: sequence });
  if (!out.ok) throw new Error(out.diagnostics.map((d) => d.message).join('; '));
  return out.value.proof;
}
const failing = (p: Proof): string[] => p.rules.filter((r) => r.verdict === 'fail').map((r) => r.rule);
const findings = (p: Proof, id: string) => p.rules.find((r) => r.rule === id)!.findings;

describe('programs in sequence on one board', () => {
  it('leave what one program of both leaves', () => {
    const one = proveProgram(inputFor(clip, text(whole)));
    if (!one.ok) throw new Error('refused');
    const two = proof(programs());
    expect(failing(two)).toEqual([]);
    expect(two.pass).toBe(true);
    expect(two.parts).toEqual(one.value.proof.parts);
    const bare = (p: Proof) =>
      p.joints.map((j) => ({ ...j, fits: j.fits.map(({ lines: _l, programs: _p, ...f }) => f) }));
    expect(bare(two)).toEqual(bare(one.value.proof));
  });

  it('name the program of every line', () => {
    const [fit] = proof(programs()).joints[0]!.fits;
    const one = proveProgram(inputFor(clip, text(mortise)));
    if (!one.ok) throw new Error('refused');
    expect(fit!.lines).toEqual(one.value.proof.joints[0]!.fits[0]!.lines);
    expect(new Set(fit!.programs)).toEqual(new Set(['one']));
  });

  it('miss what only the first would have cut', () => {
    expect(failing(proof(programs().slice(1)))).toContain('P09');
  });

  it('may not cut in a part that the first has set free', () => {
    const free = outline.flatMap((l) =>
      l === 'G1 X93 Z3' || l === 'G1 X107 Z3' ? [l.replace(' Z3', '')] : [l],
    );
    const p = proof(programs(free, mortise));
    expect(failing(p)).toContain('P12');
    expect(findings(p, 'P12')[0]).toMatchObject({ program: 'two', part: 'A' });
    expect(findings(p, 'P12')[0]!.line).toBeLessThanOrEqual(mortise.length);
  });

  it.each([
    ['P01', ['G21 G90 G17 G94', 'G1 X1 Q$'] as const],
    ['P02', ['G21 G90 G17 G94', 'G90 G17 G94'] as const],
    ['P03', ['S18000 M3', 'S18000'] as const],
    ['P15', ['T1 M6', 'T7 M6'] as const],
    ['P17', ['M30', 'M5'] as const],
  ])('%s is asked of the second program too', (rule, [from, to]) => {
    const p = proof(programs(mortise, swap(outline, from, to)));
    expect(failing(p)).toContain(rule);
    expect(findings(p, rule).map((f) => f.program)).toContain('two');
    expect(findings(p, rule).filter((f) => f.program === 'one')).toEqual([]);
  });

  it('say of which program a deep cut is', () => {
    const p = proof(programs(mortise, swap(outline, 'G1 X153', 'G1 X153 Z-3', 'G1 Z-0.2')));
    expect(findings(p, 'P06')[0]).toMatchObject({ program: 'two' });
  });

  it('go on after a part of a program that was cut before something broke', () => {
    const done = { text: text(whole.slice(0, cutAt)), file: 'one' };
    expect(failing(proof([{ ...done, done: true }, programs()[1]!]))).toEqual([]);
    expect(failing(proof([done, programs()[1]!]))).toContain('P17');
  });

  it('are the whole work where nothing was cut before', () => {
    const nothing = { text: 'G21\n', file: 'one', done: true };
    expect(failing(proof([nothing, { text: text(whole), file: 'two' }]))).toEqual([]);
  });

  it('cut with what is in the machine for each of them', () => {
    const unnamed = outline.filter((l) => l !== 'T1 M6');
    const of = (diameter: number): Proof =>
      proof(
        [
          programs()[0]!,
          { text: text(unnamed), file: 'two', cutters: [{ ...router, id: 'other', number: 2, diameter }] },
        ],
        { cutters: [router, { ...router, id: 'other', number: 2, diameter }] },
      );
    expect(failing(of(6))).toEqual([]);
    expect(failing(of(5.8))).toContain('P09');
    expect(failing(of(6.2))).toContain('P08');
  });

  it('have names of their own', () => {
    const [one] = programs();
    expect(() => proof([one!, one!])).toThrow(RangeError);
  });

  it('are refused where one of them moves nothing', () => {
    const { text: _text, ...input } = inputFor(clip, '');
    const out = proveSequence({ ...input, programs: [programs()[0]!, { text: 'G21\n', file: 'two' }] });
    expect(out.ok).toBe(false);
    expect(out.diagnostics[0]).toMatchObject({ code: 'prove/nothing-to-prove', locus: { file: 'two' } });
  });
});
