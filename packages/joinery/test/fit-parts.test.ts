import { distance, pointInRing, pointRingDistance, ringArea, ringSegments } from '@haunch/geometry';
import type { Contour, Part } from '@haunch/model';
import { describe, expect, it } from 'vitest';
import {
  defaultAllowances,
  findJoints,
  fitParts,
  partsOfMaster,
  type ReliefOptions,
  refitMaster,
} from '../src/index.js';
import { all, demo, valueIn } from './demo.js';

const joinery = valueIn(findJoints(demo, defaultAllowances('snug')));
const relief: ReliefOptions = { radius: 3, surplus: 0.1, form: 'diagonal' };
const fitted = (options: ReliefOptions | null) => valueIn(fitParts(demo, joinery, { relief: options }));
const sharp = fitted(null);
const parts = fitted(relief);
const contours = (p: Part): Contour[] => [p.outline, ...p.through, ...p.pockets];
const part = (id: string, of = parts) => of.find((p) => p.id === id)!;
const contour = (id: string, of = parts) => of.flatMap(contours).find((c) => c.id === id)!;
const corners = (c: Contour) => c.bare.vertices.map((v) => [v.x, v.y]);

describe('clearance', () => {
  it('moves each of two walls by half, the ends by half of theirs', () => {
    // EL.m1 is 80 × 18 at (70 … 150, 100 … 118): 0.10 more across the shelf, 0.20 more along it.
    expect(corners(contour('EL.m1'))).toEqual([
      [69.9, 99.95],
      [150.1, 99.95],
      [150.1, 118.05],
      [69.9, 118.05],
    ]);
  });

  it('moves one wall alone by its own half, and leaves the rest of the outline where it is', () => {
    const was = partsOfMaster(demo)[0]!.outline.bare.vertices;
    const now = part('EL').outline.bare.vertices;
    const moved = now.flatMap((v, k) => {
      const [dx, dy] = [v.x - was[k]!.x, v.y - was[k]!.y].map((d) => Math.round(d * 1e6) / 1e6 + 0);
      return dx !== 0 || dy !== 0 ? [[k, dx, dy]] : [];
    });
    // The low rail's notch: its ends at corners 5, 6, 7, 8 open by 0.1 each, its floor (6, 7) goes back by 0.05.
    // The back rail's: its floor (10, 11) by 0.05; its seat (9, 10) stays.
    expect(moved).toEqual([
      [5, 0, -0.1],
      [6, -0.05, -0.1],
      [7, -0.05, 0.1],
      [8, 0, 0.1],
      [10, -0.05, 0],
      [11, -0.05, 0],
    ]);
  });

  it('of a seat makes a slot or a housing deeper', () => {
    const allowances = { ...defaultAllowances('snug'), seat: { wanted: 0.2, window: [0.1, 0.3] as const } };
    const deep = valueIn(fitParts(demo, valueIn(findJoints(demo, allowances)), { relief: null }));
    expect(part('TOP', deep).pockets.map((p) => p.depth)).toEqual([8.2, 8.2]);
    // D1's slot for S2 was 160 deep from the front edge.
    expect(
      Math.max(
        ...contour('D1.outline', deep)
          .bare.vertices.slice(16, 19)
          .map((v) => v.x),
      ),
    ).toBe(160.2);
  });

  it('leaves the entering part as it is', () => {
    // The loose shelf and the plinth carry no walls.
    const was = partsOfMaster(demo);
    for (const id of ['S3', 'PL']) expect(part(id, sharp)).toEqual(part(id, was));
  });

  it('of a drive fit makes slots narrower', () => {
    const drive = valueIn(findJoints(demo, { ...defaultAllowances('drive', -0.06) }));
    const tight = valueIn(fitParts(demo, drive, { relief: null }));
    expect(corners(contour('EL.m1', tight))[0]).toEqual([69.9, 100.03]);
  });

  it('that a plate has no room for is refused by name', () => {
    const wide = findJoints(demo, { ...defaultAllowances('snug', 40) });
    const out = fitParts(demo, valueIn(wide), { relief: null });
    expect(out.ok).toBe(false);
    expect(new Set(out.diagnostics.map((d) => d.code))).toContain('refit/cuts-meet');
  });
});

describe('corner relief', () => {
  /*
   * The inside corners of the sideboard by hand: an end has 5 mortises of 4 and 7 corners in its outline (2 in the
   * notch for RL, 1 for BR, 4 beside its tenons): 27, twice 54. The top: 4 mortises and 2 housings of 4: 24. S1:
   * 3 mortises and 8 beside tenons: 20. S2: 8 beside tenons, 4 in slots: 12. A divider: 2 beside its tenon, 2
   * beside its tongue, 2 in notches, 2 in its slot: 8, twice 16. BR: 6. RL: 4 in slots, 4 beside tenons: 8. PL: 6
   * beside tenons. Together 146, and a mate reaches every one of them.
   */
  it('is made in all 146 inside corners of the sideboard, and nowhere else', () => {
    const counts = Object.fromEntries(parts.map((p) => [p.id, contours(p).flatMap((c) => c.reliefs).length]));
    expect(counts).toEqual({
      EL: 27,
      ER: 27,
      TOP: 24,
      S1: 20,
      S2: 12,
      D1: 8,
      D2: 8,
      BR: 6,
      RL: 8,
      PL: 6,
      S3: 0,
    });
    expect(Object.values(counts).reduce((a, b) => a + b)).toBe(146);
    expect(parts.flatMap(contours).flatMap(insideCorners)).toHaveLength(146);
  });

  it('has room in all of them at the thicknesses of mixed sheets', () => {
    const thicknesses = { ...all(demo, 17.7), BR: 17.3, S2: 18.3 };
    const master = valueIn(refitMaster(demo, { thicknesses }));
    const found = valueIn(findJoints(master, defaultAllowances('snug')));
    const out = fitParts(master, found, { relief: { ...relief, radius: 2.985 } });
    expect(out.diagnostics).toEqual([]);
    expect(
      valueIn(out)
        .flatMap(contours)
        .flatMap((c) => c.reliefs),
    ).toHaveLength(146);
    expect(valueIn(out).map((p) => p.thickness)).toEqual(demo.parts.map((p) => thicknesses[p.id as 'BR']));
  });

  it('names the corner, its edges and where the cutter goes', () => {
    const [first] = contour('EL.m1').reliefs;
    // 2.9 along the diagonal from (69.9, 99.95), so that the sharp corner is cleared by 0.1.
    const d = 2.9 / Math.SQRT2;
    expect(first).toEqual({
      form: 'diagonal',
      corner: { x: 69.9, y: 99.95 },
      centre: { x: Math.round((69.9 + d) * 1e4) / 1e4, y: Math.round((99.95 + d) * 1e4) / 1e4 },
      radius: 3,
      edges: ['EL.m1/e3', 'EL.m1/e0'],
    });
    // An inside corner of the outline has its air outside: beside the end's foremost upper tenon.
    const beside = part('EL').outline.reliefs.find((r) => r.edges[0] === 'EL.outline/e11')!;
    expect(beside.corner).toEqual({ x: 290, y: 742 });
    expect(beside.centre.x).toBeGreaterThan(290);
    expect(beside.centre.y).toBeGreaterThan(742);
  });

  it('tags its arcs, keeps the tags of the walls, and leaves the bare curve sharp', () => {
    const c = contour('EL.m1');
    expect(c.ring.vertices.map((v) => v.tag)).toEqual(
      [0, 1, 2, 3].flatMap((k) => [`EL.m1/r${k}`, `EL.m1/e${k}`]),
    );
    expect(c.bare).toEqual(contour('EL.m1', sharp).bare);
    expect(c.bare.vertices).toHaveLength(4);
    expect(contour('EL.m1', sharp).reliefs).toEqual([]);
    expect(contour('EL.m1', sharp).ring).toEqual(contour('EL.m1', sharp).bare);
  });

  it.each(['diagonal', 'along the wall', 'least'] as const)(
    'of form %s lets a square arris into every corner and takes nothing but discs',
    (form) => {
      const made = fitted({ ...relief, form });
      for (const c of made.flatMap(contours)) {
        const bounds = made.some((p) => p.outline === c) ? 'material' : 'air';
        for (const r of c.reliefs) {
          expect(distance(r.corner, r.centre)).toBeLessThanOrEqual(
            3 + 0.0002 + (form === 'along the wall' ? 0.1 : 0),
          );
          // The corner is in the air now, or on its border.
          const where = pointInRing(c.ring, r.corner);
          if (form === 'diagonal') expect(where).toBe(bounds === 'air' ? 'inside' : 'outside');
          expect(pointRingDistance(c.ring, r.centre)).toBeGreaterThan(3 - 0.001);
        }
        // More air than before by the discs' outer parts, never by more than a disc each.
        const more = Math.abs(ringArea(c.ring) - ringArea(c.bare));
        expect(more).toBeLessThanOrEqual(c.reliefs.length * Math.PI * 9);
        if (c.reliefs.length > 0) expect(more).toBeGreaterThan(0);
        expect(ringArea(c.ring)).toBeGreaterThan(0);
      }
    },
  );

  it('along the wall leaves the grip faces whole', () => {
    const c = contour('EL.m1', fitted({ ...relief, form: 'along the wall' }));
    const at = (tag: string) => ringSegments(c.ring).find((s) => s.tag === tag)!;
    // The walls e0 and e2 still run from end to end; the ends e1 and e3 are cut into by 3 mm.
    expect(at('EL.m1/e0').from).toEqual({ x: 69.9, y: 99.95 });
    expect(at('EL.m1/e0').to).toEqual({ x: 150.1, y: 99.95 });
    expect(distance(at('EL.m1/e1').from, at('EL.m1/e1').to)).toBeLessThan(18.1 - 8);
  });

  it('leaves a corner sharp that no arris reaches', () => {
    // Without its mates the end needs no relief.
    const nothing = valueIn(fitParts(demo, { joints: [], contacts: [] }, { relief }));
    expect(nothing.flatMap(contours).flatMap((c) => c.reliefs)).toEqual([]);
    // A contact that ends 4 mm before the corner does not reach it, one that ends 2 mm before it does.
    const cut = (by: number) => ({
      ...joinery,
      contacts: joinery.contacts.map((c) =>
        c.edge === 'EL.m1/e0' ? { ...c, stretch: [by, 80] as const } : c,
      ),
    });
    const reliefs = (by: number) =>
      contour('EL.m1', valueIn(fitParts(demo, cut(by), { relief }))).reliefs.length;
    expect([reliefs(2), reliefs(4)]).toEqual([4, 3]);
  });

  it('that has no room in the form asked for is cut along a wall, grip faces whole where they can be', () => {
    // A 3/8 in cutter (common practice, no source) swallows the plinth's 5 mm shoulders on the diagonal.
    const made = valueIn(
      fitParts(demo, joinery, { relief: { ...relief, radius: 4.7625, form: 'diagonal' } }),
    );
    expect(made.flatMap(contours).flatMap((c) => c.reliefs)).toHaveLength(146);
    const plinth = made.find((p) => p.id === 'PL')!.outline;
    const forms = plinth.reliefs.filter((r) => Math.abs(r.corner.y - 5) < 0.5).map((r) => r.form);
    expect(forms).toEqual(['along the wall', 'along the wall']);
  });

  it('that has no room at all is refused with how far the plate would stand proud', () => {
    // A cutter of 30 mm radius swallows every wall of a mortise of 18 x 80 mm.
    const out = fitParts(demo, joinery, { relief: { ...relief, radius: 30, form: 'diagonal' } });
    expect(out.ok).toBe(false);
    const errors = out.diagnostics.filter((d) => d.locus.feature === 'EL.m1');
    expect(errors.length).toBeGreaterThan(0);
    for (const d of errors) {
      expect(d).toMatchObject({ code: 'refit/corner-not-relieved', level: 'error', locus: { part: 'EL' } });
      // r − √(r² − (r − c)²) with c = 0.1: 27.56 mm.
      expect(d.message).toContain(`${+(30 - Math.sqrt(900 - 29.9 ** 2)).toFixed(4)} mm proud`);
    }
  });

  it('that runs into another cut is a warning', () => {
    const near = {
      ...demo,
      parts: demo.parts.map((p) =>
        p.id === 'EL'
          ? {
              ...p,
              through: [
                ...p.through,
                {
                  id: 'EL.x',
                  loop: {
                    start: [60, 90] as [number, number],
                    segments: [
                      [74, 90],
                      [74, 99.5],
                      [60, 99.5],
                      [60, 90],
                    ].map((to) => ({
                      to: to as [number, number],
                    })),
                  },
                },
              ],
            }
          : p,
      ),
    };
    const out = fitParts(near, valueIn(findJoints(near, defaultAllowances('snug'))), { relief });
    expect(out.diagnostics.map((d) => [d.code, d.locus.feature, d.message])).toEqual([
      ['refit/relief-breaks-through', 'EL.m1', "the relief of this corner runs into 'EL.x'"],
    ]);
  });

  it('is misused with a radius or surplus that is none', () => {
    for (const bad of [{ radius: 0 }, { radius: Number.NaN }, { surplus: -0.1 }, { surplus: 3 }])
      expect(() => fitParts(demo, joinery, { relief: { ...relief, ...bad } })).toThrow(RangeError);
  });
});

/** Corners hollow in the material between straight edges, found another way: a step out on both sides is air. */
function insideCorners(c: Contour): unknown[] {
  const air = parts.some((p) => p.outline.id === c.id) ? 'outside' : 'inside';
  const n = c.bare.vertices.length;
  return c.bare.vertices.filter((v, i) => {
    const before = c.bare.vertices[(i + n - 1) % n]!;
    const after = c.bare.vertices[(i + 1) % n]!;
    if (before.bulge !== 0 || v.bulge !== 0) return false;
    const ahead = (a: { x: number; y: number }, b: { x: number; y: number }) => {
      const l = distance(a, b);
      return { x: b.x + ((b.x - a.x) / l) * 0.01, y: b.y + ((b.y - a.y) / l) * 0.01 };
    };
    // Going straight on from either wall leads into material.
    const solid = (p: { x: number; y: number }) =>
      pointInRing(c.bare, p) === (air === 'inside' ? 'outside' : 'inside');
    return solid(ahead(before, v)) && solid(ahead(after, v));
  });
}
