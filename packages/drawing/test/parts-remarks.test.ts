import { describe, expect, it } from 'vitest';
import type { LayerRules } from '../src/index.js';
import { codesOf, read, rectangle } from './parts-scene.js';

describe('what is doubted or refused beside what is understood', () => {
  it('remarks on curves that are cut through because no rule says otherwise, louder where their layer sounds like recesses', () => {
    const said = (layer: string, layers: LayerRules = {}) =>
      read([rectangle(0, 0, 200, 100, 1, 'PLATE'), rectangle(20, 20, 38, 80, 10, layer)], {
        layers,
      }).diagnostics.map((d) => [d.code, d.level, d.locus.line]);
    expect(said('INSIDE')).toEqual([['read/cut-through', 'note', 10]]);
    for (const layer of ['Pocket 3', 'GROOVES', 'depth 4mm', 'Nut'])
      expect(said(layer)).toEqual([['read/cut-through', 'warning', 10]]);
    expect(said('PLATE')).toEqual([]);
    expect(said('0')).toEqual([]);
    expect(said('INSIDE', { INSIDE: { as: 'cut' } })).toEqual([]);
    // Where the layer bounds parts of its own, it is one for cuts.
    const both = read([
      rectangle(0, 0, 200, 100, 1, 'A'),
      rectangle(20, 20, 38, 80, 10, 'B'),
      rectangle(300, 0, 400, 100, 20, 'B'),
    ]);
    expect(codesOf(both)).toEqual([]);
  });

  it('refuses a pocket as deep as its sheet is thick, whoever states either of the two', () => {
    const drawn = [rectangle(0, 0, 200, 100, 1, 'PLATE'), rectangle(20, 20, 38, 80, 10, 'G')];
    const codes = (depth: number, thickness?: number) =>
      read(drawn, {
        layers: { G: { as: 'pocket', depth } },
        ...(thickness === undefined ? {} : { thickness }),
      })
        .diagnostics.filter((d) => d.level === 'error')
        .map((d) => [d.code, d.locus.part, d.locus.line]);
    expect(codes(8, 18)).toEqual([]);
    expect(codes(17.9, 18)).toEqual([]);
    expect(codes(18, 18)).toEqual([['read/pocket-too-deep', 'PLATE', 10]]);
    expect(codes(80, 18)).toEqual([['read/pocket-too-deep', 'PLATE', 10]]);
    expect(codes(80)).toEqual([]);
  });

  it('reads what it understands beside contours that cross each other', () => {
    const r = read([
      rectangle(0, 0, 100, 100, 1, 'A'),
      rectangle(50, 50, 150, 150, 10, 'A'),
      rectangle(300, 0, 400, 100, 20, 'A'),
      rectangle(320, 20, 338, 80, 30, 'A'),
      // A cut that overruns its part: neither is understood.
      rectangle(500, 0, 600, 100, 40, 'A'),
      rectangle(550, 40, 650, 60, 50, 'A'),
    ]);
    expect(r.parts.map((p) => [p.outline.ring.vertices[0]!.x, p.through.length])).toEqual([[300, 1]]);
    expect(codesOf(r)).toEqual(['crossing-curves', 'crossing-curves']);
    expect(r.unclear.length).toBe(2);
  });
});
