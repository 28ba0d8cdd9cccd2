/// <reference types="node" />
import { existsSync, readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import {
  type Drawing,
  findParts,
  formatDxf,
  formatSvg,
  pictureOfParts,
  readDxf,
  sheetOfParts,
} from '../src/index.js';
import { FIXTURES, fixtureBytes } from './fixtures.js';
import { ROOT, sideboardParts } from './sideboard.js';

/** A small seeded generator (mulberry32), so that every run meets the same files. */
function seeded(seed: number): () => number {
  let a = seed >>> 0;
  return () => {
    a = (a + 0x6d2b79f5) >>> 0;
    let t = Math.imul(a ^ (a >>> 15), 1 | a);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

const PUBLIC = resolve(ROOT, '../shared/drawings');
const publicFile = (name: string): Uint8Array[] =>
  existsSync(resolve(PUBLIC, name)) ? [new Uint8Array(readFileSync(resolve(PUBLIC, name)))] : [];
const own = (version: 'R12' | '2000'): Uint8Array =>
  new TextEncoder().encode(formatDxf(sheetOfParts(sideboardParts()), { version }));

const CORPUS: readonly Uint8Array[] = [
  ...FIXTURES.map(fixtureBytes),
  own('R12'),
  own('2000'),
  ...['G17.dxf', 'H06.dxf', 'L02.dxf', 'L04.dxf'].flatMap(publicFile),
];
const POISON = [
  'NaN',
  '1e400',
  '-1e308',
  '',
  '0',
  '-1',
  '9999999999',
  'SECTION',
  'ENDSEC',
  'POLYLINE',
  'VERTEX',
  'EOF',
  '10',
  '999999',
  '1e-320',
  '\u0000',
];

const NUMBER = /^\s*-?\d+(\.\d+)?\s*$/;

/** One blow: a cut, wrong bytes, lines lost or doubled, whole records doubled, poisoned or shifted numbers. */
function mutate(bytes: Uint8Array, random: () => number): Uint8Array {
  const below = (n: number): number => Math.floor(random() * n);
  const kind = random();
  if (kind < 0.05) return bytes.slice(0, below(bytes.length));
  if (kind < 0.07) return bytes.slice(below(bytes.length));
  if (kind < 0.2) {
    const out = bytes.slice();
    for (let i = below(6); i >= 0; i--) out[below(out.length)] = below(256);
    return out;
  }
  const lines = new TextDecoder('latin1').decode(bytes).split('\n');
  const value = (): number => 2 * below(lines.length / 2) + 1;
  if (kind < 0.25) lines.splice(below(lines.length), 1 + below(3));
  else if (kind < 0.45) {
    const from = 2 * below(lines.length / 2);
    lines.splice(
      2 * below(lines.length / 2),
      kind < 0.35 ? 0 : 2 * below(20),
      ...lines.slice(from, from + 2 * below(30)),
    );
  } else if (kind < 0.65) for (let i = below(3); i >= 0; i--) lines[value()] = POISON[below(POISON.length)]!;
  else
    for (let i = below(12); i >= 0; i--) {
      const at = value();
      if (NUMBER.test(lines[at] ?? ''))
        lines[at] = String(Number(lines[at]) + [0.005, -0.2, 18, 1e6, -0.0001][below(5)]!);
    }
  return Uint8Array.from(lines.join('\n'), (c) => c.charCodeAt(0) & 255);
}

/** Fails when any number in a value is not finite. */
function expectFinite(value: unknown): void {
  if (typeof value === 'number') {
    if (!Number.isFinite(value)) throw new Error(`${value} came out`);
  } else if (Array.isArray(value)) for (const v of value) expectFinite(v);
  else if (typeof value === 'object' && value !== null) for (const v of Object.values(value)) expectFinite(v);
}

/** Reads hostile bytes all the way to a picture; answers how far it came. */
function readThrough(source: Uint8Array | string): 'refused' | 'drawing' | 'parts' {
  const drawing = readDxf(source, { file: 'hostile.dxf' });
  if (!drawing.ok) {
    expect(drawing.diagnostics.some((d) => d.level === 'error')).toBe(true);
    return 'refused';
  }
  expectFinite(drawing.value);
  const parts = findParts(drawing.value as Drawing);
  if (!parts.ok) {
    expect(parts.diagnostics.some((d) => d.level === 'error')).toBe(true);
    return 'drawing';
  }
  expectFinite(parts.value);
  const svg = formatSvg(pictureOfParts(parts.value));
  // A layer may be called NaN; a number may not.
  expect(svg).not.toMatch(/ (?:d|x|y|viewBox|font-size)="[^"]*(?:NaN|Infinity)/);
  return 'parts';
}

describe('hostile files', () => {
  it('survives 2,400 mutations and truncations without a throw, a hang or a number that is not finite', {
    timeout: 240_000,
  }, () => {
    const random = seeded(20_240_229);
    const seen = { refused: 0, drawing: 0, parts: 0 };
    for (let i = 0; i < 2400; i++) {
      let bytes = CORPUS[i % CORPUS.length]!;
      for (let k = 0; k <= random() * 2; k++) if (bytes.length > 0) bytes = mutate(bytes, random);
      try {
        seen[readThrough(bytes)]++;
      } catch (e) {
        throw new Error(`mutation ${i} of corpus file ${i % CORPUS.length}: ${e}`, { cause: e });
      }
    }
    // The mutations reach every stage; otherwise they would prove nothing.
    expect(Math.min(seen.refused, seen.drawing, seen.parts)).toBeGreaterThan(50);
  });

  it('survives every truncation of a small file', () => {
    const bytes = fixtureBytes('pocket');
    for (let n = 0; n < bytes.length; n++) {
      const tail = new TextDecoder().decode(bytes.subarray(n));
      // Where all sections are complete only the end is missing, which is warned of.
      const whole = tail === '\n' || /^\s*0\nEOF\n$/.test(tail);
      expect(readThrough(bytes.slice(0, n))).toBe(whole ? 'parts' : 'refused');
      if (whole && tail !== '\n') expect(readDxf(bytes.slice(0, n)).diagnostics[0]!.code).toBe('read/no-end');
    }
  });

  it('answers the same for the same bytes', () => {
    for (const bytes of CORPUS) expect(JSON.stringify(readDxf(bytes))).toBe(JSON.stringify(readDxf(bytes)));
  });

  it.each([
    ['nothing', ''],
    ['blanks', '\n\n \n'],
    ['one letter', 'x'],
    ['a picture', '<svg xmlns="http://www.w3.org/2000/svg"/>'],
    ['a document', '%PDF-1.7\n'],
    ['numbers', '0\n0\n0\n0\n'],
    ['only an end', '0\nEOF\n'],
  ])('refuses %s as no DXF', (_, text) => {
    const r = readDxf(text);
    expect(r.ok).toBe(false);
    expect(r.diagnostics[0]!.code).toBe('read/not-dxf');
  });
});
