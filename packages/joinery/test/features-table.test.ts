import { polygonRing, ring } from '@haunch/geometry';
import type { Diagnostic, Feature, FeatureTable, Part } from '@haunch/model';
import { describe, expect, it } from 'vitest';
import {
  findThickness,
  formatFeatureTable,
  nothingFollowsIn,
  readFeatureTable,
  recogniseFeatures,
  refitByFeatures,
  refitNotes,
  thicknessNotes,
  thicknessUnconfirmed,
} from '../src/index.js';
import { valueIn } from './demo.js';
import { farthest, partOf, plateOf, slotRing } from './features-pieces.js';

const plate = (id = 'P'): Part =>
  plateOf(id, { t: 18, tenons: 2, notches: 2, fingers: 0, slots: 3, reliefs: 'round', fit: 0 });
const tableOf = (parts: readonly Part[], t = 18): FeatureTable =>
  valueIn(recogniseFeatures(parts, { thicknesses: [t], file: 'plate.dxf' }));

/** The table with one feature changed by hand. */
const changed = (t: FeatureTable, id: string, by: Partial<Feature>): FeatureTable => ({
  ...t,
  features: t.features.map((f) => (f.id === id ? { ...f, ...by } : f)),
});

const refusal = (parts: readonly Part[], table: FeatureTable, to = 17.4, options = {}): Diagnostic[] => {
  const refused = refitByFeatures(parts, table, to, options);
  expect(refused.ok).toBe(false);
  for (const d of refused.diagnostics) {
    expect(d.hint).not.toBe('');
    expect(Object.keys(d.locus).length).toBeGreaterThan(0);
  }
  return [...refused.diagnostics];
};

describe('a table of features', () => {
  it('is the same after it was written and read, and refits the same', () => {
    const parts = [plate('A'), plate('B')];
    const table = tableOf(parts);
    const again = valueIn(readFeatureTable(formatFeatureTable(table), 'table.json'));
    expect(again).toEqual(table);
    expect(refitByFeatures(parts, again, 17.4)).toEqual(refitByFeatures(parts, table, 17.4));
    expect(table.reliefs.length).toBeGreaterThan(20);
  });

  it('holds a wall that a person names, and the row of slots keeps its pitch', () => {
    const parts = [plate()];
    const table = tableOf(parts);
    const slots = table.features.filter((f) => f.kind === 'slot');
    expect(slots.length).toBe(3);
    const held = valueIn(refitByFeatures(parts, changed(table, slots[0]!.id, { hold: 'first' }), 17));
    const xs = (p: Part): number[][] =>
      p.through.map((c) => {
        const x = c.ring.vertices.map((v) => v.x);
        return [Math.min(...x), Math.max(...x)];
      });
    const [before, after] = [xs(parts[0]!), xs(held.parts[0]!)];
    const shift = after.map(([a, b], k) => [a! - before[k]![0]!, b! - before[k]![1]!]);
    for (const s of shift)
      expect(s.map((v) => Math.round(v * 1e4) / 1e4)).toEqual(
        shift[0]!.map((v) => Math.round(v * 1e4) / 1e4),
      );
    expect(shift[0]!.map(Math.abs).sort()).toEqual([0, expect.closeTo(1, 3)]);
  });

  it('leaves a feature as drawn that a person says does not follow', () => {
    const parts = [plate()];
    const table = tableOf(parts);
    const none = { ...table, features: table.features.map((f) => ({ ...f, follows: false })) };
    expect(farthest(valueIn(refitByFeatures(parts, none, 17)).parts, parts)).toBe(0);
  });

  it('keeps the overall size of a part when asked: shoulders move instead of tips', () => {
    const parts = [plate()];
    const table = changed(tableOf(parts), 'P.tenon-1', {});
    const tenons = table.features.filter((f) => f.kind === 'tenon').map((f) => f.id);
    const tips = tenons.reduce((t, id) => changed(t, id, { hold: 'second' }), table);
    const low = (p: Part): number => Math.min(...p.outline.ring.vertices.map((v) => v.y));
    const kept = valueIn(refitByFeatures(parts, { ...tips, outerSize: ['P'] }, 17));
    expect(low(kept.parts[0]!)).toBe(low(parts[0]!));
    const plain = valueIn(refitByFeatures(parts, table, 17));
    expect(low(plain.parts[0]!)).toBeCloseTo(low(parts[0]!) + 1, 4);
  });

  it('follows two sheets: each thickness has its own change', () => {
    const parts = [
      partOf('A', slotRing({ x: 0, y: 0 }, 300, 200), [
        slotRing({ x: -60, y: 0 }, 18, 80),
        slotRing({ x: 60, y: 0 }, 12, 80),
      ]),
    ];
    const table = valueIn(recogniseFeatures(parts, { thicknesses: [18, 12] }));
    const done = valueIn(refitByFeatures(parts, table, [{ from: 18, to: 17.4 }, { from: 12, to: 12.2 }])); // biome-ignore format: short
    expect(done.table.features.map((f) => f.size).sort()).toEqual([12.2, 17.4]);
    expect(refusal(parts, table, 17.4).map((d) => d.code)).toEqual([
      'features/change-missing',
      'features/change-missing',
    ]);
  });
});

it('says of a slot for two sheets that a plate which leans at 53.13 degrees needs it as wide, at every sheet', () => {
  const parts = [
    partOf('A', slotRing({ x: 0, y: 0 }, 300, 200), [
      slotRing({ x: -60, y: 0 }, 24, 80),
      slotRing({ x: 60, y: 0 }, 12, 80),
    ]),
  ];
  const table = tableOf(parts, 12);
  const double = table.features.find((f) => f.size === 24)!;
  expect(double.reasons.join()).toContain('leaning at 53.13 degrees');
  expect(table.features.find((f) => f.size === 12)!.reasons.join()).not.toContain('leaning');
  // t/sin θ + t/tan θ with a sine of 4/5 and a tangent of 4/3.
  const done = valueIn(refitByFeatures(parts, table, 11.5));
  expect(done.table.features.find((f) => f.id === double.id)!.size).toBeCloseTo(11.5 * (5 / 4 + 3 / 4), 4);
});

describe('a table that does not fit is refused by name', () => {
  const parts = [plate()];
  const table = tableOf(parts);
  const first = table.features[0]!;
  const codes = (t: FeatureTable, to = 17.4): string[] => refusal(parts, t, to).map((d) => d.code);

  it('a part that is not there', () =>
    expect(codes(changed(table, first.id, { part: 'Q' }))).toEqual(['features/table-part-missing']));
  it('an edge that is not there', () => {
    const d = refusal(parts, changed(table, first.id, { sides: [['P.outline/e999'], first.sides[1]] }));
    expect(d.map((x) => [x.code, x.locus.feature])).toEqual([['features/table-edge-missing', first.id]]);
  });
  it('a size that is not drawn', () =>
    expect(codes(changed(table, first.id, { size: 25 }))).toEqual(['features/table-size-differs']));
  it('sides that are not parallel', () => {
    const slot = table.features.find((f) => f.kind === 'slot')!;
    // Two walls of one cut that are square to each other; e2 is a wall as e0 is, with a relief between them.
    const names = ['e0', 'e1', 'e2', 'e3', 'e4', 'e5', 'e6', 'e7'].map((e) => `${slot.contour}/${e}`);
    const found = names.flatMap((a) => {
      const refused = refitByFeatures(
        parts,
        changed(table, slot.id, { sides: [[slot.sides[0][0]!], [a]] }),
        17.4,
      );
      return refused.diagnostics.map((d) => d.code);
    });
    expect(found).toContain('features/table-sides-askew');
  });
  it('two features of one id', () =>
    expect(codes({ ...table, features: [...table.features, first] })).toEqual(['features/table-same-id']));
  it('holds that contradict', () => {
    const slot = table.features.find((f) => f.kind === 'slot')!;
    const twice = { ...slot, id: 'again', hold: 'second' as const };
    const d = refusal(parts, {
      ...changed(table, slot.id, { hold: 'first' }),
      features: [...changed(table, slot.id, { hold: 'first' }).features, twice],
    });
    expect(d.map((x) => x.code)).toEqual(['features/contradictory-holds']);
    expect(d[0]!.message).toMatch(/again.*slot/);
  });
  it('an overall size and a hold that contradict', () => {
    const tenon = table.features.find((f) => f.kind === 'tenon')!;
    expect(codes({ ...changed(table, tenon.id, { hold: 'first' }), outerSize: ['P'] })).toContain(
      'features/contradictory-holds',
    );
  });
  it('text that is no table, with line and path', () => {
    const bad = readFeatureTable(
      formatFeatureTable(table).replace('"hold":"usual"', '"hold":"sometimes"'),
      't.json',
    );
    expect(bad.diagnostics.map((d) => [d.code, d.locus.path])).toEqual([
      ['features/table', 'features[0].hold'],
    ]);
    expect(bad.diagnostics[0]!.locus.line).toBe(8);
    expect(readFeatureTable('{', 't.json').diagnostics[0]!.code).toBe('features/table');
  });
});

describe('the impossible is refused by name', () => {
  const comb = (web: number): Part =>
    partOf('C', slotRing({ x: 0, y: 0 }, 400, 200), [
      slotRing({ x: 0, y: 0 }, 18, 80),
      slotRing({ x: 18 + web, y: 0 }, 18, 80),
    ]);

  it('a web under its minimum', () => {
    const parts = [comb(3)];
    const [d] = refusal(parts, tableOf(parts), 19.5);
    expect([d!.code, d!.locus.feature]).toEqual(['features/web-too-thin', 'C.slot-1']);
    expect(valueIn(refitByFeatures(parts, tableOf(parts), 19.5, { leastWeb: 1 })).parts.length).toBe(1);
  });

  it('cuts that would run into each other', () => {
    const parts = [comb(3)];
    expect(refusal(parts, tableOf(parts), 21.5).map((d) => d.code)).toEqual(['features/crosses']);
  });

  it('a cut that would run out of its part: the outline is named, not the cut itself, and the place is on both', () => {
    // The outline's right edge is at 100; the slot's right wall at 97 goes to 101.
    const slot = slotRing({ x: 88, y: 0 }, 18, 80);
    const plain = [partOf('C', slotRing({ x: 0, y: 0 }, 200, 200), [slot])];
    const [d, ...more] = refusal(plain, tableOf(plain), 44);
    expect(more).toEqual([]);
    expect([d!.code, d!.locus.feature, d!.locus.at?.x]).toEqual(['features/crosses', 'C.slot-1', 100]);
    expect(d!.message).toBe("it would run into the part's outline here");
    // A notch of the same outline moves as well, far away: it is not what runs into the slot.
    const corners = [
      [-100, -100], [100, -100], [100, 100], [-41, 100], [-41, 40], [-59, 40], [-59, 100], [-100, 100],
    ].map(([x, y]) => ({ x: x!, y: y! })); // biome-ignore format: short
    const notched = [partOf('C', polygonRing(corners), [slot])];
    const table = tableOf(notched);
    expect(table.features.map((f) => f.kind).sort()).toEqual(['notch', 'slot']);
    const [far] = refusal(notched, table, 44);
    expect([far!.locus.feature, far!.message]).toEqual([
      'C.slot-1',
      "it would run into the part's outline here",
    ]);
    // And a notch that runs into a cut which stays as drawn names that cut.
    const window = [partOf('C', polygonRing(corners), [slotRing({ x: -38, y: 60 }, 4, 50)])];
    const [notch] = refusal(window, tableOf(window), 24);
    expect([notch!.code, notch!.locus.feature]).toEqual(['features/crosses', 'C.notch-1']);
    expect(notch!.message).toMatch(/run into 'C\.c\d+' here/);
  });

  it('a finger between notches that would vanish', () => {
    // A comb of notches 18 wide with fingers of 4 between them: one side held, the fingers pay for all of it.
    const corners = [{ x: 0, y: 0 }, { x: 0, y: 200 }]; // biome-ignore format: short
    for (let k = 0; k < 3; k++) {
      const x = 40 + k * 22;
      corners.push({ x, y: 200 }, { x, y: 120 }, { x: x + 18, y: 120 }, { x: x + 18, y: 200 });
    }
    corners.push({ x: 300, y: 200 }, { x: 300, y: 0 });
    const parts = [partOf('C', polygonRing(corners.reverse()))];
    const table = tableOf(parts);
    expect(table.features.map((f) => f.kind)).toEqual(['notch', 'notch', 'notch']);
    const vanishes = refusal(parts, table, 22.5);
    expect(vanishes.map((d) => d.code)).toContain('features/vanishes');
    expect(vanishes[0]!.message).toMatch(/C\.notch-1.*C\.notch-2/);
    expect(refusal(parts, table, 20.5).map((d) => d.code)).toContain('features/web-too-thin');
  });

  it('a wall that moves away from the arc it runs into', () => {
    // The right wall of the notch ends on a round bump of radius 5, whose far side is 9 mm away.
    const bump = Math.tan((Math.PI - Math.atan2(3, 4)) / 4);
    const parts = [
      partOf(
        'A',
        ring([
          { x: 0, y: 0, bulge: 0 },
          { x: 300, y: 0, bulge: 0 },
          { x: 300, y: 100, bulge: 0 },
          { x: 168, y: 100, bulge: bump },
          { x: 159, y: 103, bulge: 0 },
          { x: 159, y: 40, bulge: 0 },
          { x: 141, y: 40, bulge: 0 },
          { x: 141, y: 130, bulge: 0 },
          { x: 0, y: 130, bulge: 0 },
        ]),
      ),
    ];
    const table = tableOf(parts);
    // As long as the wall meets the arc, its end slides along it.
    const slid = valueIn(refitByFeatures(parts, table, 20)).parts[0]!.outline.ring.vertices[4]!;
    expect(Math.hypot(slid.x - 163, slid.y - 100)).toBeCloseTo(5, 3);
    expect(slid.x).toBeCloseTo(160, 4);
    expect(refusal(parts, table, 40).map((d) => d.code)).toEqual(['features/neighbours-part']);
  });

  it('but not a small arc in the corner of a notch: it travels with the corner, smooth or not', () => {
    for (const bulge of [0.3, Math.tan(Math.PI / 8), -0.2]) {
      const parts = [
        partOf(
          'A',
          ring([
            { x: 0, y: 0, bulge: 0 },
            { x: 300, y: 0, bulge: 0 },
            { x: 300, y: 130, bulge: 0 },
            { x: 163, y: 130, bulge },
            { x: 159, y: 126, bulge: 0 },
            { x: 159, y: 40, bulge: 0 },
            { x: 141, y: 40, bulge: 0 },
            { x: 141, y: 130, bulge: 0 },
            { x: 0, y: 130, bulge: 0 },
          ]),
        ),
      ];
      const after = valueIn(refitByFeatures(parts, tableOf(parts), 19)).parts[0]!.outline.ring.vertices;
      expect(after.slice(3, 5)).toEqual(
        parts[0]!.outline.ring.vertices.slice(3, 5).map((v) => ({ ...v, x: v.x + 0.5 })),
      );
    }
  });

  it('but not a wall that runs into an S of arcs: they go along with it, as they are', () => {
    const quarter = Math.tan(Math.PI / 8);
    const parts = [
      partOf(
        'A',
        ring([
          { x: 0, y: 0, bulge: 0 },
          { x: 300, y: 0, bulge: 0 },
          { x: 300, y: 130, bulge: 0 },
          { x: 159, y: 130, bulge: 0 },
          { x: 159, y: 40, bulge: 0 },
          { x: 141, y: 40, bulge: 0 },
          { x: 141, y: 70, bulge: quarter },
          { x: 111, y: 100, bulge: -quarter },
          { x: 81, y: 130, bulge: 0 },
          { x: 0, y: 130, bulge: 0 },
        ]),
      ),
    ];
    for (const to of [17, 19]) {
      const after = valueIn(refitByFeatures(parts, tableOf(parts), to)).parts[0]!.outline.ring.vertices;
      const by = (18 - to) / 2;
      expect(after.slice(6, 9)).toEqual(
        parts[0]!.outline.ring.vertices.slice(6, 9).map((v) => ({ ...v, x: v.x + by })),
      );
    }
  });

  it('a recess as deep as the new sheet', () => {
    const p = plate();
    const deep: Part = {
      ...p,
      pockets: [{ ...p.through[0]!, id: 'P.h1', face: 'n+', depth: 17.5 }],
      through: [],
    };
    expect(refusal([deep], tableOf([deep]), 17).map((d) => d.code)).toContain('refit/too-deep');
  });
});

describe('what is said about the thickness', () => {
  it('nothing where nothing slots, and a unit in which it would', () => {
    const square = [partOf('S', slotRing({ x: 0, y: 0 }, 100, 80))];
    expect(findThickness(square)).toMatchObject({ verdict: 'none', value: null, otherUnit: null });
    expect(thicknessNotes(findThickness(square)).map((d) => d.code)).toEqual(['features/no-thickness']);
    const metres = [partOf('M', slotRing({ x: 0, y: 0 }, 0.4, 0.3), [0, 1, 2, 3].map((k) => slotRing({ x: k * 0.06 - 0.1, y: 0 }, 0.018, 0.08)))]; // biome-ignore format: short
    const finding = findThickness(metres);
    expect(finding).toMatchObject({ verdict: 'none', otherUnit: { unit: 'm', value: 18, support: 4 } });
    expect(thicknessNotes(finding)[0]!.hint).toMatch(/in m/);
  });

  it('several where two are about as likely, and what texts and layers state decides', () => {
    const two = [18, 12].map(
      (w, i) =>
      partOf(`P-${i}`, slotRing({ x: 0, y: 0 }, 400, 300), [0, 1, 2, 3].map((k) => slotRing({ x: k * 60 - 100, y: 0 }, w, 80))), // biome-ignore format: short
    );
    const finding = findThickness(two);
    expect(finding.verdict).toBe('several');
    expect(thicknessNotes(finding, 'x.dxf').map((d) => d.code)).toEqual(['features/several-thicknesses']);
    expect(thicknessUnconfirmed(finding, 'x.dxf').message).toMatch(
      /18 mm \(4 slots\).*12 mm|12 mm \(4 slots\).*18 mm/,
    );
    const said = findThickness(two, { said: [{ text: 'PLY_12mm', from: "layer 'PLY_12mm'" }] });
    expect(said).toMatchObject({ verdict: 'likely', value: 12 });
    expect(said.candidates[0]!.stated).toEqual(["layer 'PLY_12mm'"]);
  });

  it('the middle of a peak that a kerf has split, with the fit and both halves kept', () => {
    // Slots 2.937 wide and fingers 3.064 deep: 3 mm drawn with 0.127 mm for the kerf.
    const p = plateOf('K', {
      t: 3.064,
      tenons: 3,
      notches: 0,
      fingers: 3,
      slots: 4,
      reliefs: 'none',
      fit: -0.127,
    });
    const finding = findThickness([p]);
    expect(finding.value).toBeCloseTo(3.0005, 4);
    expect(finding.candidates[0]!.drawnFit).toBeCloseTo(0.127, 4);
    expect(finding.candidates.map((c) => c.value)).toEqual(expect.arrayContaining([2.937, 3.064]));
  });

  it('not the reliefs, round or square, nor doubled sheets', () => {
    for (const reliefs of ['round', 'square'] as const) {
      const p = plateOf('R', { t: 18, tenons: 3, notches: 3, fingers: 4, slots: 4, reliefs, fit: 0 });
      expect(findThickness([p])).toMatchObject({ verdict: 'likely', value: 18 });
    }
    const doubled = partOf('D', slotRing({ x: 0, y: 0 }, 900, 300), [
      ...[0, 1, 2, 3, 4, 5].map((k) => slotRing({ x: k * 80 - 300, y: 0 }, 36, 80)),
      ...[0, 1, 2].map((k) => slotRing({ x: k * 60 + 220, y: 0 }, 18, 80)),
    ]);
    expect(findThickness([doubled])).toMatchObject({ verdict: 'likely', value: 18 });
  });

  it('says so where nothing follows the stated thickness', () => {
    const found = recogniseFeatures([plate()], { thicknesses: [9.3], file: 'p.dxf' });
    expect(found.diagnostics.map((d) => [d.code, d.locus.file])).toEqual([
      ['features/nothing-follows', 'p.dxf'],
    ]);
    // Asked for a refit it is refused; where features are there and none follows, the hint is another.
    const none = nothingFollowsIn(valueIn(found), 'p.dxf')!;
    expect([none.level, none.code, none.locus.file]).toEqual(['error', 'features/nothing-follows', 'p.dxf']);
    const table = tableOf([plate()]);
    expect(nothingFollowsIn(table)).toBeNull();
    const left = { ...table, features: table.features.map((f) => ({ ...f, follows: false })) };
    expect(nothingFollowsIn(left)).toMatchObject({ level: 'error', code: 'features/nothing-follows' });
    expect(nothingFollowsIn(left)!.hint).not.toBe(none.hint);
  });

  it('says of several parts that nobody checked them against each other, and of one nothing', () => {
    expect(refitNotes(1, 'p.dxf')).toEqual([]);
    expect(refitNotes(2, 'p.dxf')).toMatchObject([
      { level: 'note', code: 'features/parts-not-checked', locus: { file: 'p.dxf' } },
    ]);
  });
});
