import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readProgram } from '../src/read/read-program.js';
import lines from './nistir-6556/lines.json' with { type: 'json' };
import samples from './nistir-6556/samples.json' with { type: 'json' };

const seeds = [
  samples.hello.join('\n'),
  samples.materialEdge.join('\n'),
  lines.lines.map((l) => l.line).join('\n'),
  'G21 G90\nF100 G0 X0 Y0 Z5\nG83 X1 Z-5 R1 Q0.5 L3\nG91 G82 X1 R-1 Z-1 P.5\nG10 L2 P2 X1\nG55 G92 X1\n#1=[2**3] G1 X#1\n',
];

/** What a reading of this text breaks of all that must hold, whatever the text; empty when it is sound. */
function unsound(text: string): string[] {
  const { moves, diagnostics } = readProgram(text);
  const last = Math.max(1, text.split('\n').length);
  const broken: string[] = [];
  let line = 1;
  for (const m of moves) {
    if (m.line < line || m.line > last) broken.push(`line ${m.line} after ${line}`);
    line = m.line;
    if (!('to' in m)) continue;
    const figures = [m.from.x, m.from.y, m.from.z, m.to.x, m.to.y, m.to.z, m.spindle, m.feed ?? 0];
    if (!figures.every(Number.isFinite)) broken.push(`line ${m.line}: ${figures.join(' ')}`);
  }
  for (const d of diagnostics) {
    const located = d.locus.line !== undefined && d.locus.line >= 1 && d.locus.line <= last;
    if (!located || !/^nc\/[a-z0-9-]+$/.test(d.code) || !/\.$/.test(d.message) || !/\.$/.test(d.hint))
      broken.push(JSON.stringify(d));
  }
  return broken;
}
const sound = (text: string): void => {
  expect(unsound(text)).toEqual([]);
};

const CHARS = 'GXYZIJKRFSTMNPQLHD#[]()*/+-.0123456789% \t\n;=E~\u00e9\u0000';

/** A text with some of its characters replaced, taken out, put in, or whole stretches doubled. */
const mutated = fc
  .record({
    text: fc.constantFrom(...seeds),
    edits: fc.array(
      fc.record({
        at: fc.double({ min: 0, max: 1, noNaN: true }),
        how: fc.constantFrom('replace', 'remove', 'insert', 'double' as const),
        what: fc.array(fc.constantFrom(...CHARS), { minLength: 1, maxLength: 4 }).map((c) => c.join('')),
      }),
      { minLength: 1, maxLength: 12 },
    ),
  })
  .map(({ text, edits }) =>
    edits.reduce((t, { at, how, what }) => {
      const i = Math.floor(at * t.length);
      if (how === 'replace') return t.slice(0, i) + what + t.slice(i + what.length);
      if (how === 'remove') return t.slice(0, i) + t.slice(i + what.length);
      if (how === 'insert') return t.slice(0, i) + what + t.slice(i);
      return t.slice(0, i) + t.slice(Math.max(0, i - 40), i) + t.slice(i);
    }, text),
  );

describe('reading never throws and stays sound', () => {
  it('on 2,000 mutated programs', () =>
    fc.assert(fc.property(mutated, sound), { numRuns: 2000, seed: 20_000 }));
  it('on any text', () =>
    fc.assert(fc.property(fc.string({ unit: 'binary', maxLength: 400 }), sound), { numRuns: 500 }));
  it('on deep nesting, long lines, huge numbers', () => {
    sound(`G1 X${'['.repeat(250)}`);
    sound(`G1 X${'SIN['.repeat(60)}`);
    sound(`#1=${'9'.repeat(240)}\nG1 X#1`);
    sound('#1=[9**300]\n#2=[#1*#1]\nG21 G0 X#1\nG91 X#2');
    sound(`G1 X${'1'.repeat(100_000)}`);
    sound('');
    sound('%');
    sound('\n\n');
  });
});

describe('a text with many errors', () => {
  const reading = readProgram(`${'O1\nG0 G1 X1\n'.repeat(3000)}M2`, { file: 'bad.ngc' });
  const of = (code: string) => reading.diagnostics.filter((d) => d.code === code);
  it('keeps the first fifty of each kind and counts the rest', () => {
    expect(of('nc/unknown-word')).toHaveLength(50);
    expect(of('nc/code-conflict')).toHaveLength(50);
    expect(of('nc/more').map((d) => d.message)).toEqual([
      '2950 more of nc/unknown-word are not listed.',
      '2950 more of nc/code-conflict are not listed.',
    ]);
  });
  it('names file and line of each', () => {
    expect(of('nc/unknown-word')[1]!.locus).toEqual({ file: 'bad.ngc', line: 3 });
    expect(reading.diagnostics.every((d) => d.locus.file === 'bad.ngc')).toBe(true);
  });
});
