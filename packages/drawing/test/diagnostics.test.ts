/// <reference types="node" />
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { FindPartsOptions } from '../src/index.js';
import { FIXTURES, fixtureBytes, readAll } from './fixtures.js';
import { ROOT } from './sideboard.js';
import { SVG_FIXTURES } from './svg-fixtures.js';

/** What each fixture says besides its own code: drawings are rarely wrong in one way only. */
const ALSO: Readonly<Record<string, readonly string[]>> = {
  'empty-drawing': ['no-parts'],
  'gap-between-parts': ['shared-edge'],
  'joined-gap': [],
  'no-parts': ['loose-line'],
  'not-followed': ['odd-unit'],
  'pocket-too-deep': ['pocket'],
  'parted-line': ['edges-merged', 'shared-edge'],
  'sheet-border': [],
};

const CODES = [
  ...new Set(
    ['diagnostics.ts', 'parts/diagnostics.ts']
      .flatMap((f) => [
        ...readFileSync(resolve(ROOT, 'packages/drawing/src', f), 'utf8').matchAll(
          /'(?:error|warning|note)',\s*'([a-z0-9-]+)'/g,
        ),
      ])
      .map((m) => m[1]!),
  ),
].sort();

/** How those fixtures are read whose code is about what a person asked for. */
const OPTIONS: Readonly<Record<string, FindPartsOptions>> = {
  'joined-gap': { joinWithin: 0.1 },
  'keep-unknown': { keep: ['join@12:0,0'] },
  'layer-left-out': { layers: { 'NOTES ON IT': { as: 'engrave' } } },
  'layer-unknown': { layers: { PLATES: { as: 'cut' } } },
};

it('has a fixture and a page for every code, and for nothing else', () => {
  expect(CODES.length).toBeGreaterThan(25);
  expect([...new Set([...FIXTURES, ...SVG_FIXTURES])].sort()).toEqual(CODES);
  const pages = [
    ...readFileSync(resolve(ROOT, 'docs/diagnostics/read.md'), 'utf8').matchAll(/^## read\/(\S+)$/gm),
  ].map((m) => m[1]!);
  expect([...pages].sort()).toEqual(CODES);
});

describe.each(FIXTURES)('fixture %s', (name) => {
  const { parts, diagnostics } = readAll(fixtureBytes(name), { file: `${name}.dxf` }, OPTIONS[name] ?? {});

  it('says its code, with a place and a hint, and no more than is listed', () => {
    expect([...new Set(diagnostics.map((d) => d.code.slice(5)))].sort()).toEqual(
      [name, ...(ALSO[name] ?? [])].sort(),
    );
    for (const d of diagnostics) {
      expect(d.locus.file).toBe(`${name}.dxf`);
      expect(d.hint.length).toBeGreaterThan(10);
      expect(d.message).toMatch(/^[A-Z0-9].*[.!?]$/s);
    }
  });

  it('has parts exactly when nothing is an error', () => {
    expect(parts === null).toBe(diagnostics.some((d) => d.level === 'error'));
  });
});
