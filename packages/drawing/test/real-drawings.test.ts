/// <reference types="node" />
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { ringArea, ringBounds } from '@haunch/geometry';
import { describe, expect, it } from 'vitest';
import { findParts, type ReadDxfOptions, readDxf, thicknessSupport } from '../src/index.js';
import { readAll } from './fixtures.js';
import { ROOT } from './sideboard.js';

// Public drawings that nobody of this project drew. They are not part of the repository, for their licences differ.
const FOLDER = resolve(ROOT, '../shared/drawings');
const HERE = existsSync(FOLDER);
const FILES = HERE
  ? readdirSync(FOLDER)
      .filter((f) => f.endsWith('.dxf'))
      .sort()
  : [];
if (!HERE) console.info(`The public drawings are not at ${FOLDER}; their tests are left out.`);

const bytes = (name: string): Uint8Array => readFileSync(resolve(FOLDER, name));
const partsOf = (name: string, read: ReadDxfOptions = {}, find = {}) =>
  readAll(bytes(name), { file: name, ...read }, find);

describe.runIf(HERE)('public drawings', () => {
  it.each(FILES)('%s is read or refused with a place, never thrown at', (name) => {
    const drawing = readDxf(bytes(name), { file: name });
    const diagnostics = [...drawing.diagnostics, ...(drawing.ok ? findParts(drawing.value).diagnostics : [])];
    for (const d of diagnostics) {
      expect(d.locus.file).toBe(name);
      expect(d.hint).not.toBe('');
    }
    expect(drawing.ok).toBe(!drawing.diagnostics.some((d) => d.level === 'error'));
  });

  it('finds the six parts of a case, neighbours edge to edge, 3 mm thick', () => {
    const { parts, diagnostics } = partsOf('G17.dxf');
    expect(parts!.length).toBe(6);
    expect(thicknessSupport(parts!)[0]!.value).toBe(3);
    expect(diagnostics.map((d) => d.code)).toContain('read/doubled-lines');
  });

  it('finds the walls and roofs of a house without a unit, and invents no holes', () => {
    const { parts, diagnostics } = partsOf('H06.dxf');
    expect(parts!.length).toBe(11);
    expect(parts!.every((p) => p.through.length === 0 && p.holes.length === 0)).toBe(true);
    expect(diagnostics.map((d) => d.code)).toContain('read/no-unit');
    expect(parts!.reduce((sum, p) => sum + ringArea(p.outline.ring), 0)).toBeGreaterThan(40_000);
  });

  it('finds the parts on a sheet with its border drawn, and 6 mm as their thickness', () => {
    const { parts, diagnostics } = partsOf('G14.dxf');
    expect(diagnostics.map((d) => d.code)).toContain('read/sheet-border');
    // One careful reader counted 30; a pair of discs is the doubtful case.
    expect(Math.abs(parts!.length - 30)).toBeLessThanOrEqual(1);
    expect(thicknessSupport(parts!)[0]!.value).toBe(6);
    for (const p of parts!) {
      const b = ringBounds(p.outline.ring);
      expect(Math.max(b.maxX - b.minX, b.maxY - b.minY)).toBeLessThan(1190);
    }
  });

  it('tells parts that are stacked on 31 layers apart, once hidden layers are asked for', () => {
    const { parts, diagnostics } = partsOf('H04.dxf', {}, { hiddenLayers: true });
    expect(diagnostics.map((d) => d.code)).toContain('read/by-layer');
    expect(parts!.map((p) => p.id)).toContain('bed');
    expect(thicknessSupport(parts!)[0]!.value).toBe(6);
  });

  it('doubts a header that says mm over a drawing in metres', () => {
    const drawing = readDxf(bytes('G22.dxf'), { file: 'G22.dxf' });
    const doubt = drawing.diagnostics.find((d) => d.code === 'read/odd-unit');
    expect(doubt?.message).toMatch(/\bm is likelier\b/);
    expect(thicknessSupport(partsOf('G22.dxf', { unit: 'm' }).parts!)[0]!.value).toBeCloseTo(4, 2);
  });

  it('reads past empty values in extended data', () => {
    expect(partsOf('H01.dxf').parts!.length).toBeGreaterThan(50);
  });

  it('closes contours whose ends nearly meet, leaves out the frame and both sheets, and says so', () => {
    const { parts, diagnostics } = partsOf('G04.dxf');
    // Counted in the picture: fourteen parts on each half of two sheets.
    expect(parts!.length).toBe(56);
    expect(diagnostics.map((d) => d.code)).toEqual(
      expect.arrayContaining(['read/joined-gap', 'read/sheet-border', 'read/layer-assumed']),
    );
    const asked = partsOf('G04.dxf', {}, { joinWithin: 0.1 }).diagnostics;
    expect(asked.filter((d) => d.code === 'read/open-outline').length).toBeGreaterThan(0);
  });

  it('measures 18 mm where square reliefs 5 mm deep are drawn at every corner', () => {
    // The drawing's own lettering says: designed for 18mm material exactly.
    expect(thicknessSupport(partsOf('G04.dxf').parts!)[0]!.value).toBe(18);
  });

  it('reads parts stacked at one origin, each on a layer that is off, without their construction lines', () => {
    const { parts, diagnostics } = partsOf('H04.dxf');
    // 31 layers, four of which are called construction.
    expect(parts!.length).toBe(27);
    expect(parts!.map((p) => p.id)).toContain('ps3eye_camplate');
    expect(diagnostics.map((d) => d.code)).toEqual(
      expect.arrayContaining(['read/all-hidden', 'read/by-layer', 'read/layer-assumed']),
    );
  });

  it('cuts no engraving out of a side with finger joints, unless told to', () => {
    const [side] = partsOf('G18.dxf').parts!;
    expect([side!.through.length, thicknessSupport([side!])[0]!.value]).toEqual([2, 5]);
    expect(partsOf('G18.dxf', {}, { keep: ['engraving'] }).parts![0]!.through.length).toBe(29);
  });

  it('parts boards that share their edges, and takes no gap between their notches for a part', () => {
    const { parts, diagnostics } = partsOf('H01.dxf');
    expect(diagnostics.filter((d) => d.level === 'error')).toEqual([]);
    expect(diagnostics.map((d) => d.code)).toEqual(
      expect.arrayContaining(['read/shared-edge', 'read/parted-line', 'read/gap-between-parts']),
    );
    // The smallest part is a pinion, 146 mm²; gaps are below.
    for (const p of parts!) expect(ringArea(p.outline.ring)).toBeGreaterThan(100);
    // Four sides with their gaps, a bottom, and the four flaps of an unfolded cover.
    expect(partsOf('G22.dxf', { unit: 'm' }).parts!.length).toBe(9);
  });
});
