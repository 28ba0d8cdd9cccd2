import { describe, expect, it } from 'vitest';
import { findParts, readSvg } from '../src/index.js';
import { SVG_FIXTURES, svgFixtureBytes } from './svg-fixtures.js';

/** What each fixture says besides its own code. */
const ALSO: Readonly<Record<string, readonly string[]>> = {
  'empty-drawing': ['no-parts'],
  'no-parts': ['loose-line'],
  'svg-dashed': ['cut-through'],
};
/** The line and, where it has one, the id at which each fixture's fault lies. */
const PLACES: Readonly<Record<string, readonly [number, string?]>> = {
  'not-svg': [2],
  'malformed-xml': [3],
  'svg-truncated': [4],
  'svg-limit': [13],
  'path-data': [3, 'slot'],
  'svg-number': [3, 'peg'],
  'svg-transform': [2, 'shelf'],
  'use-recursion': [5],
  'use-missing': [3],
  'svg-not-read': [3],
  'svg-hidden': [3],
  'svg-unpainted': [3],
  'svg-clipped': [3],
  'svg-not-drawn': [2, 'hatch'],
  'svg-dashed': [3],
  'svg-background': [2],
  'svg-rounded': [2],
  'no-size': [3],
};

describe.each(SVG_FIXTURES)('SVG fixture %s', (name) => {
  const file = `${name}.svg`;
  const drawing = readSvg(svgFixtureBytes(name), { file });
  const found = drawing.ok ? findParts(drawing.value, { hiddenLayers: name === 'svg-dashed' }) : null;
  const diagnostics = [...drawing.diagnostics, ...(found?.diagnostics ?? [])];

  it('says its code, with a place and a hint, and no more than is listed', () => {
    expect([...new Set(diagnostics.map((d) => d.code.slice(5)))].sort()).toEqual(
      [name, ...(ALSO[name] ?? [])].sort(),
    );
    for (const d of diagnostics) {
      expect(d.locus.file).toBe(file);
      expect(d.hint.length).toBeGreaterThan(10);
      expect(d.message).toMatch(/^[A-Z0-9'].*[.!?]$/s);
    }
    const [line, handle] = PLACES[name] ?? [];
    const own = diagnostics.find((d) => d.code === `read/${name}`)!;
    if (line !== undefined) expect([own.locus.line, own.locus.handle]).toEqual([line, handle]);
  });

  it('has parts exactly when nothing is an error', () => {
    expect(found?.ok === true).toBe(!diagnostics.some((d) => d.level === 'error'));
  });
});

it('names the copies that contain each other', () => {
  const r = readSvg(svgFixtureBytes('use-recursion'));
  expect(r.diagnostics[0]!.message).toBe('A copy (use) contains itself: a → b → a.');
});

it('says which character of path data is wrong and what belongs there', () => {
  const r = readSvg(svgFixtureBytes('path-data'));
  expect(r.diagnostics[0]!.message).toBe(
    "The path data is wrong at its character 18 ('x 20'): a number was expected.",
  );
});
