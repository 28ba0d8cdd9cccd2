import { describe, expect, it } from 'vitest';
import * as constructors from '../src/read/diagnostics.js';
import { readProgram } from '../src/read/read-program.js';

/** A text for every code, with the line that the code must name. */
const TEXTS: Readonly<Record<string, readonly [line: number, text: string]>> = {
  'line-too-long': [2, `G21\n(${'a'.repeat(255)})\nM2`],
  'bad-character': [2, 'G21\nG0 X1 ; note\nM2'],
  'comment-not-closed': [2, 'G21\nG0 X1 (open\nM2'],
  'comment-nested': [2, 'G21\n(a (b) c)\nM2'],
  'line-number': [2, 'G21\nN123456 G0 X1\nM2'],
  'unknown-word': [2, 'G21\nO1000\nM2'],
  'rotary-word': [2, 'G21\nG0 A90\nM2'],
  'repeated-word': [2, 'G21\nG0 X1 X2\nM2'],
  'bad-value': [2, 'G21\nG0 X\nM2'],
  'bad-arithmetic': [2, 'G21\nG0 X[1/0]\nM2'],
  'bad-parameter': [2, 'G21\n#5400=1\nM2'],
  'reserved-parameter': [2, 'G21\n#5221=1\nM2'],
  'not-whole': [2, 'G21\nT1.5\nM2'],
  'out-of-range': [2, 'G21\nS-1\nM2'],
  'unknown-code': [2, 'G21\nG95\nM2'],
  'refused-code': [2, 'G21\nG41 D1\nM2'],
  'code-conflict': [2, 'G21\nG0 G1 X1\nM2'],
  'unused-word': [2, 'G21\nG0 X1 R2\nM2'],
  'missing-word': [2, 'G21\nG0\nM2'],
  'no-motion-mode': [2, 'G21\nX1\nM2'],
  'g53-needs-straight-move': [2, 'G21\nG53 X1\nM2'],
  'bad-cycle': [3, 'G21\nG0 X0 Y0 Z5 F1\nG81 X1 Z1 R0\nM2'],
  'arc-radius': [3, 'G21\nG0 X0 Y0 Z5 F1\nG2 X10.003 Y0 I5 J0\nM2'],
  'bad-arc': [3, 'G21\nG0 X0 Y0 Z5 F1\nG2 X0 Y0 R5\nM2'],
  'arc-from-unknown-place': [2, 'G21\nG2 X0 Y0 I5 F1\nM2'],
  'arc-radius-form': [3, 'G21\nG0 X0 Y0 Z5 F1\nG2 X10 R5\nM2'],
  'while-compensating': [3, 'G21\nG41 D1\nG18\nM2'],
  'machine-coordinates': [2, 'G21\nG53 G0 Z0\nM2'],
  'unknown-origin': [3, 'G21\nG0 X0 Y0 Z5\nG55 X1\nM2'],
  'incremental-from-unknown-place': [2, 'G21\nG91 G0 X1\nM2'],
  'block-delete': [2, 'G21\n/G0 X1\nM2'],
  'feed-before-units': [2, 'G21\nG20 F1\nM2'],
  'no-feed': [3, 'G21\nG0 X0 Y0 Z5\nG1 X1\nM2'],
  'tool-not-selected': [2, 'G21\nM6\nM2'],
  'length-of-another-tool': [4, 'G21\nT1 M6\nG43 H2\nG0 Z5\nM2'],
  'no-unit': [1, 'G0 X1\nM2'],
  'percent-not-closed': [2, '%\nG21\n'],
  'stray-percent': [2, 'G21\n%\nM2'],
  'no-end': [2, 'G21\nG0 X1'],
  more: [51, `${'O1\n'.repeat(51)}`],
};

describe('every diagnostic of the reader has a text that calls for it', () => {
  it('none is left out', () => expect(Object.keys(TEXTS)).toHaveLength(Object.keys(constructors).length));
  it.each(Object.entries(TEXTS))('nc/%s', (code, [line, text]) => {
    const found = readProgram(text, { file: 'a.ngc' }).diagnostics.filter((d) => d.code === `nc/${code}`);
    expect(found.length).toBeGreaterThan(0);
    expect(found[0]!.locus).toEqual({ file: 'a.ngc', line });
  });
});
