/// <reference types="node" />
import { SaxesParser } from 'saxes';
import { describe, expect, it } from 'vitest';
import {
  type Entity,
  formatImportPage,
  formatImportReport,
  formatSvg,
  importDrawing,
  pictureOfDrawing,
  pictureOfImport,
  readDxf,
} from '../src/index.js';
import { FIXTURES, fixtureBytes } from './fixtures.js';
import { drawingOf, line, lines, rectangle } from './parts-scene.js';

const wellFormed = (text: string): number => {
  let elements = 0;
  const parser = new SaxesParser();
  parser.on('error', (e) => {
    throw e;
  });
  parser.on('opentag', () => {
    elements++;
  });
  parser.write(text).close();
  return elements;
};

const dirty: Entity[] = [
  ...lines([
    [0, 0],
    [200, 0],
    [200, 99.95],
  ]),
  line(200, 100, 0, 100, 30),
  line(0, 100, 0, 0, 40),
  line(0, 100, 0, 0, 50),
  line(50, 50, 80, 50, 60, 'A <b> & "c"'),
  ...lines(
    [
      [300, 0],
      [400, 0],
      [400, 80],
      [300, 80],
      [300, 3],
    ],
    70,
  ),
];

describe('the import report', () => {
  const drawing = drawingOf(dirty);
  const read = importDrawing(drawing);
  const text = formatImportReport(read);

  it('names every repair, everything left out and everything not understood, each with its lines', () => {
    expect(read.repairs.map((r) => r.kind)).toEqual(['double', 'join']);
    for (const r of read.repairs) expect(text).toContain(r.id);
    expect(text).toMatch(/open outline at \(300, 0\), lines 70, 80, 90, 100/);
    expect(text).toMatch(/engraving: 1 entity on layer 'A <b> & "c"', line 60/);
    expect(text).toMatch(/1 × P-1/);
    for (const d of read.diagnostics) expect(text).toContain(d.message);
  });

  it('is a page with both pictures, in which nothing that was drawn becomes markup', () => {
    const page = formatImportPage(read, { before: pictureOfDrawing(drawing), after: pictureOfImport(read) });
    expect(page.match(/<svg /g)?.length).toBe(2);
    expect(page).not.toContain('A <b>');
    expect(page).toContain('A &lt;b');
    // The body without the doctype and the void elements is XML.
    expect(wellFormed(page.slice(page.indexOf('<body>'), page.indexOf('</html>')))).toBeGreaterThan(40);
  });
});

describe('pictures of an import', () => {
  it('show parts, what was left out, what was not understood, and marks with the names of repairs', () => {
    const read = importDrawing(drawingOf(dirty));
    const svg = formatSvg(pictureOfImport(read)!);
    expect(wellFormed(svg)).toBeGreaterThan(10);
    for (const style of ['outline', 'left-out', 'unclear', 'repair'])
      expect(svg).toContain(`class="${style}"`);
    for (const r of read.repairs) expect(svg).toContain(r.id);
    // An open run is not closed by the picture.
    expect(svg).toMatch(/class="unclear" d="M[^"Z]*"/);
  });

  it('set parts apart that are drawn over each other', () => {
    const stacked = ['A', 'B', 'C', 'D'].flatMap((layer, i) => [
      rectangle(-10 * i, 5 * i, 100 + 10 * i, 60 + 20 * i, 10 * i + 1, layer),
      rectangle(20, 20 + i, 30 + i, 40, 10 * i + 2, layer),
    ]);
    const read = importDrawing(
      drawingOf([...stacked, rectangle(40, -30, 60, 200, 99, 'E'), rectangle(45, 0, 50, 10, 98, 'E')]),
    );
    expect(read.diagnostics.map((d) => d.code)).toContain('read/by-layer');
    expect(read.parts.length).toBe(5);
    const { width } = /viewBox="\S+ \S+ (?<width>\S+) /.exec(formatSvg(pictureOfImport(read)!))!.groups!;
    expect(Number(width)).toBeGreaterThan(200);
  });

  it.each(FIXTURES)('are well-formed for the fixture %s', (name) => {
    const drawing = readDxf(fixtureBytes(name), { file: `${name}.dxf` });
    if (!drawing.ok) return;
    const read = importDrawing(drawing.value);
    for (const picture of [pictureOfDrawing(drawing.value), pictureOfImport(read)])
      if (picture !== null) expect(wellFormed(formatSvg(picture))).toBeGreaterThan(4);
    expect(formatImportReport(read)).toContain(`${name}.dxf: `);
  });
});
