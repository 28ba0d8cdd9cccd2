import { formatDxf, sheetOfParts } from '@haunch/drawing';
import { rectangleRing, ringBounds } from '@haunch/geometry';
import type { Contour, Part } from '@haunch/model';
import { describe, expect, it } from 'vitest';
import { importFile } from './describe-file.js';
import { refitByTwo } from './refit-by-two.js';

const contour = (id: string, x0: number, y0: number, x1: number, y1: number): Contour => {
  const ring = rectangleRing(x0, y0, x1, y1);
  return { id, ring, bare: ring, reliefs: [] };
};

/** A plate whose slots grow upwards with t, whose length grows by twice t, and which has a window that stays. */
const plate = (t: number, stated: number | null = null): Part => ({
  kind: 'part',
  id: 'A',
  name: 'shelf',
  thickness: stated,
  grain: null,
  cutFace: 'n+',
  showFace: null,
  stock: null,
  outline: contour('A', 0, 0, 300 + 2 * t, 200),
  through: [contour('A.c1', 60, 60, 120, 60 + t), contour('A.c2', 160, 100, 210, 140)],
  pockets: [],
  holes: [],
  from: [],
});
const dxf = (...parts: Part[]): string => formatDxf(sheetOfParts(parts));
const request = (more = {}) => ({
  first: { content: dxf(plate(18)), file: 'eighteen.dxf', thickness: 18 },
  second: { content: dxf(plate(17)), file: 'seventeen.dxf', thickness: 17 },
  to: 19.5,
  ...more,
});
const codes = (more = {}) =>
  refitByTwo(request(more))
    .diagnostics.filter((d) => d.level === 'error')
    .map((d) => [d.code, d.locus.file]);

describe('two drawings of one design', () => {
  it('teach what follows thickness: the third is what would have been drawn for it', () => {
    const done = refitByTwo(request({ out: 'x.dxf' }));
    if (!done.ok) throw new Error(done.diagnostics.map((d) => d.message).join('\n'));
    expect(done.value.learnt.thickness).toBe(18);
    const again = importFile(done.value.text!, 'x.dxf');
    if (!again.ok) throw new Error('the drawing that was written cannot be read');
    const [made] = again.value.read.parts;
    expect(made!.thickness).toBe(19.5);
    const size = (c: Contour) => {
      const { minX, minY, maxX, maxY } = ringBounds(c.ring);
      return [maxX - minX, maxY - minY].map((v) => +v.toFixed(4));
    };
    expect(size(made!.outline)).toEqual([339, 200]);
    expect(made!.through.map(size).sort((p, q) => q[0]! - p[0]!)).toEqual([
      [60, 19.5],
      [50, 40],
    ]);
    expect(done.value.moved.A).toBeGreaterThan(0);
  });

  it('are taken at the thicknesses that they state, and never at a likely one', () => {
    const stated = {
      first: { content: dxf(plate(18, 18)), file: 'eighteen.dxf' },
      second: { content: dxf(plate(17, 17)), file: 'seventeen.dxf' },
    };
    expect(refitByTwo(request(stated)).ok).toBe(true);
    expect(codes({ second: { content: dxf(plate(17)), file: 'seventeen.dxf' } })).toEqual([
      ['features/thickness-not-confirmed', 'seventeen.dxf'],
    ]);
  });

  it('are refused by name where they teach nothing, cannot be read, or are to be written as what they are not', () => {
    expect(codes({ second: { content: dxf(plate(18)), file: 's.dxf', thickness: 18 } })).toEqual([
      ['features/pair-same-thickness', 'eighteen.dxf'],
    ]);
    const other = { ...plate(17), id: 'B', outline: contour('B', 0, 0, 40, 30), through: [] };
    expect(codes({ second: { content: dxf(other), file: 's.dxf', thickness: 17 } })).toEqual([
      ['features/pair-nothing', 'eighteen.dxf'],
    ]);
    expect(codes({ second: { content: 'x', file: 's.dxf', thickness: 17 } })[0]![1]).toBe('s.dxf');
    expect(codes({ out: 'x.json' })).toEqual([['job/bare-drawing', 'eighteen.dxf']]);
    expect(codes({ out: 'x.txt' })).toEqual([['job/output-kind', 'x.txt']]);
  });

  it('are refused at a thickness at which something would vanish', () => {
    // An opening that is 150 mm less three thicknesses high: nothing is left of it at 50 mm.
    const closing = (t: number): Part => ({
      ...plate(t),
      through: [contour('A.c1', 60, 20, 120, 20 + 150 - 3 * t)],
    });
    const two = {
      first: { content: dxf(closing(18)), file: 'eighteen.dxf', thickness: 18 },
      second: { content: dxf(closing(17)), file: 'seventeen.dxf', thickness: 17 },
    };
    expect(refitByTwo(request({ ...two, to: 40 })).ok).toBe(true);
    const refused = refitByTwo(request({ ...two, to: 53 }));
    expect(refused.ok).toBe(false);
    expect(refused.diagnostics.at(-1)!.locus).toMatchObject({ file: 'eighteen.dxf', part: 'A' });
    // A thickness that is none of the same design is refused before anything is tried.
    expect(refitByTwo(request({ to: 300 })).ok).toBe(false);
  });
});
