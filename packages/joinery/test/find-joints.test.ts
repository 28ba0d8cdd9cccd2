import type { Axis, Master, MasterPart } from '@haunch/model';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { defaultAllowances, findJoints, type Joinery, jointGaps, partsOfMaster } from '../src/index.js';
import { copy, demo, type Spoilable, valueIn } from './demo.js';

const allowances = defaultAllowances('snug');
const joinery = valueIn(findJoints(demo, allowances));
const fits = joinery.joints.flatMap((j) => j.fits);
const count = (kind: string, walls: number) =>
  fits.filter((f) => f.kind === kind && f.walls.length === walls).length;
const fit = (id: string) => fits.find((f) => f.id === id);

describe('the joints of the sideboard', () => {
  it('are the 23 of its mates, each with a plate between or against walls', () => {
    expect(joinery.joints.map((j) => j.id)).toEqual(demo.mates.map((m) => m.id));
    for (const j of joinery.joints)
      expect(
        j.fits.some((f) => f.kind === 'thickness'),
        j.id,
      ).toBe(true);
  });

  /*
   * Counted by hand from the master.
   * Pairs of walls: each end has 2 mortises for S1, 2 for S2, 1 for PL, and the top 2 for it: 7, twice 14. Each
   * divider has a lap slot for S2 and S2 one for it, S1 a mortise, RL and BR a slot, TOP a housing: 6, twice 12.
   * S1 has one mortise for PL. Together 27.
   * Single walls: each end lies in front of RL and of BR, and BR's notch lies inside each end: 3, twice 6; each
   * divider lies in front of RL and of BR: 2, twice 4. Together 10.
   * Ends: each end's 5 mortises and its notch for RL, and the top's 2 for it: 8, twice 16; each divider's tenon
   * in S1 and tongue in TOP: 2, twice 4; PL's tenon in S1. Together 21, all in pairs.
   * Seats: BR on each end (2), S2 in each divider (2), each divider on RL and under BR (4), each tongue on the
   * floor of its housing (2). Together 10.
   */
  it('have 27 pairs of walls and 10 single walls, 21 pairs of ends, 10 seats', () => {
    expect([count('thickness', 2), count('thickness', 1)]).toEqual([27, 10]);
    expect([count('ends', 2), count('ends', 1)]).toEqual([21, 0]);
    expect(count('seat', 1)).toBe(10);
    expect(fits).toHaveLength(68);
  });

  it('name walls and the edges that meet them', () => {
    expect(fit('M-EL-S1:EL.m1:thickness')).toEqual({
      id: 'M-EL-S1:EL.m1:thickness',
      joint: 'M-EL-S1',
      kind: 'thickness',
      slotPart: 'EL',
      contour: 'EL.m1',
      walls: ['EL.m1/e0', 'EL.m1/e2'],
      enteringPart: 'S1',
      enteringEdges: [],
      wanted: 0.1,
      window: [0.05, 0.15],
    });
    // The tenon 80 wide at y = 90 … 170: edges e22 and e26 of the shelf's left side.
    expect(fit('M-EL-S1:EL.m1:ends')).toMatchObject({
      walls: ['EL.m1/e1', 'EL.m1/e3'],
      enteringEdges: ['S1.outline/e22', 'S1.outline/e26'],
      wanted: 0.2,
    });
    // One wall alone wants half, as the other half is on the plate's free side.
    expect(fit('M-EL-RL:EL.outline:thickness')).toMatchObject({
      walls: ['EL.outline/e6'],
      wanted: 0.05,
      window: [0.025, 0.075],
    });
    expect(fit('M-TOP-D1:TOP.h1:seat')).toMatchObject({
      contour: 'TOP.h1',
      walls: ['TOP.h1/floor'],
      enteringPart: 'D1',
      enteringEdges: ['D1.outline/e12'],
    });
  });

  it('of a cross-lap have walls on both parts', () => {
    const lap = joinery.joints.find((j) => j.id === 'M-D1-S2')!;
    expect(lap.fits.map((f) => [f.kind, f.slotPart, f.enteringPart])).toEqual([
      ['thickness', 'D1', 'S2'],
      ['thickness', 'S2', 'D1'],
      ['seat', 'D1', 'S2'],
    ]);
  });

  it('know a shoulder from a wall', () => {
    const role = (part: string, edge: string) =>
      joinery.contacts.filter((c) => c.part === part && c.edge === edge).map((c) => `${c.role} ${c.with}`);
    // The bottom shelf's shoulder against the left end; the divider's against the top, beside its tongue.
    expect(role('S1', 'S1.outline/e27')).toEqual(['shoulder EL']);
    expect(role('D1', 'D1.outline/e14')).toEqual(['shoulder TOP']);
    expect(role('D1', 'D1.outline/e5')).toEqual(['wall RL']);
    expect(role('BR', 'BR.outline/e1')).toEqual(['wall EL']);
    // The tenon's end stands 6 proud and touches nothing.
    expect(role('S1', 'S1.outline/e24')).toEqual([]);
  });

  it('say over which stretch an edge is covered', () => {
    // D1's front edge slot is 160 deep and S2 fills it; the low rail covers the divider's notch from its foot, 158 − 118.
    const stretch = (edge: string) => joinery.contacts.find((c) => c.edge === edge)!.stretch;
    expect(stretch('D1.outline/e16')).toEqual([0, 160]);
    expect(stretch('D1.outline/e5')).toEqual([0, 40]);
    // The end's rear notch is 60 high; of the rail in it only the rear face's 18 mm lie on its floor.
    expect(stretch('EL.outline/e9')).toEqual([0, 18]);
  });

  it('leave no gap at the thickness they were drawn for', () => {
    for (const g of jointGaps(demo, partsOfMaster(demo), joinery))
      expect(Math.abs(g.total)).toBeLessThan(1e-9);
  });
});

/** Turns a whole piece in space. */
function turned(master: Master, rows: readonly [Vec, Vec, Vec], by: Vec): Master {
  const turn = ([x, y, z]: Vec): Vec => [
    rows[0][0] * x + rows[0][1] * y + rows[0][2] * z,
    rows[1][0] * x + rows[1][1] * y + rows[1][2] * z,
    rows[2][0] * x + rows[2][1] * y + rows[2][2] * z,
  ];
  const vector = (a: Axis): Vec => {
    if (typeof a !== 'string') return turn(a);
    const v: Vec = [0, 0, 0];
    v['XYZ'.indexOf(a[1]!) as 0 | 1 | 2] = a[0] === '-' ? -1 : 1;
    return turn(v);
  };
  const place = (p: readonly [number, number, number]): Vec => {
    const [x, y, z] = turn([p[0], p[1], p[2]]);
    return [x + by[0], y + by[1], z + by[2]];
  };
  return {
    ...master,
    marks: [],
    parts: master.parts.map(
      (p): MasterPart => ({
        ...p,
        frame: {
          origin: place(p.frame.origin),
          u: vector(p.frame.u),
          v: vector(p.frame.v),
          n: vector(p.frame.n),
        },
      }),
    ),
    mates: master.mates.map((m) => ({
      ...m,
      enteringMoves: vector(m.enteringMoves),
      ...(m.stopsOn === undefined ? {} : { stopsOn: vector(m.stopsOn) }),
      locates: m.locates.map(vector),
    })),
  };
}
type Vec = [number, number, number];

/** A turn in space from a unit quaternion. */
function rotation([w, x, y, z]: readonly [number, number, number, number]): [Vec, Vec, Vec] {
  return [
    [1 - 2 * (y * y + z * z), 2 * (x * y - w * z), 2 * (x * z + w * y)],
    [2 * (x * y + w * z), 1 - 2 * (x * x + z * z), 2 * (y * z - w * x)],
    [2 * (x * z - w * y), 2 * (y * z + w * x), 1 - 2 * (x * x + y * y)],
  ];
}

/** The stretches apart from everything else that is found: lengths come from turned coordinates and are held to a bound, the rest exactly. */
const parted = ({ joints, contacts }: Joinery) => ({
  found: { joints, contacts: contacts.map(({ stretch, ...rest }) => ({ ...rest, ends: stretch.length })) },
  lengths: contacts.flatMap((c) => [...c.stretch]),
});
/** Of lengths found by turned coordinates, mm: an edge a thousandth aside still touches. */
const BY_TURNING = 0.001;

describe('contact in space', () => {
  it('finds the same joints however the piece is turned in the world', () => {
    const part = fc.double({ min: -1, max: 1, noNaN: true });
    const quaternion = fc.tuple(part, part, part, part).filter((q) => Math.hypot(...q) > 0.1);
    const place = fc.tuple(part, part, part);
    fc.assert(
      fc.property(quaternion, place, (q, at) => {
        const l = Math.hypot(...q);
        const unit = q.map((c) => c / l) as [number, number, number, number];
        const piece = turned(demo, rotation(unit), at.map((c) => c * 1000) as Vec);
        const [own, still] = [parted(valueIn(findJoints(piece, allowances))), parted(joinery)];
        expect(own.found).toEqual(still.found);
        own.lengths.forEach((v, i) => {
          expect(Math.abs(v - still.lengths[i]!)).toBeLessThanOrEqual(BY_TURNING);
        });
      }),
      // A failure is told as it is: numbers of this kind take minutes to be made smaller.
      { numRuns: 25, endOnFailure: true },
    );
  });

  it('does not depend on the sense in which a loop is drawn', () => {
    const piece = copy(demo);
    for (const p of piece.parts) for (const c of p.through) reverse(c.loop);
    const found = valueIn(findJoints(piece as Master, allowances));
    expect(found.joints.flatMap((j) => j.fits)).toHaveLength(fits.length);
  });

  it('is none where plates are only in one plane, or meet in an edge', () => {
    // S3 lies 1 mm off the end: moved onto it, the two touch; as they stand, they do not.
    const mate = {
      ...demo.mates[0]!,
      id: 'M-EL-S3',
      slotPart: 'EL',
      slotFeatures: [],
      enteringPart: 'S3',
      enteringMoves: '-X' as const,
    };
    const apart = findJoints({ ...demo, mates: [mate] }, allowances);
    expect(apart.ok).toBe(false);
    expect(apart.diagnostics.map((d) => [d.code, d.locus.joint, d.locus.part])).toEqual([
      ['master/no-contact', 'M-EL-S3', 'EL'],
    ]);
    const touching = copy({ ...demo, mates: [mate] });
    touching.parts[10]!.frame.origin[0] = 58;
    const found = valueIn(findJoints(touching as Master, allowances));
    expect(found.contacts.map((c) => [c.edge, c.role])).toEqual([['S3.outline/e4', 'shoulder']]);
    // Beside the end's rear edge, in the plane of its face: an edge along an edge is no contact.
    touching.parts[10]!.frame.origin[1] = 360;
    expect(findJoints(touching as Master, allowances).ok).toBe(false);
    // Over a mortise there is no face: S3 lowered to the middle of the mortise for the plinth, and cut to it.
    touching.parts[10]!.frame.origin = [58, 60, 47];
    touching.parts[10]!.thickness = 18;
    touching.parts[10]!.outline = {
      start: [0, 0],
      segments: [{ to: [100, 0] }, { to: [100, 18] }, { to: [0, 18] }, { to: [0, 0] }],
    };
    expect(findJoints(touching as Master, allowances).ok).toBe(false);
  });

  it('is an error where a frame is a thousandth and a bit off', () => {
    const moved = (by: number) => {
      const piece = copy(demo);
      piece.parts[9]!.frame.origin[0] += by;
      piece.parts[9]!.frame.origin[1] += by;
      piece.parts[9]!.frame.origin[2] += by;
      return findJoints(piece as Master, allowances);
    };
    expect(moved(0.0009).ok).toBe(true);
    expect(moved(0.002).diagnostics.map((d) => d.locus.joint)).toEqual(['M-EL-PL', 'M-ER-PL', 'M-S1-PL']);
  });

  it('gives each of two mates of the same parts the features that it names', () => {
    const piece = copy(demo);
    const second: Spoilable<Master>['mates'][number] = {
      ...piece.mates[0]!,
      id: 'M-EL-S1-rear',
      slotFeatures: ['EL.m2'],
    };
    piece.mates[0]!.slotFeatures = ['EL.m1'];
    piece.mates.splice(1, 0, second);
    const [front, rear] = valueIn(findJoints(piece as Master, allowances)).joints;
    expect(front!.fits.map((f) => f.contour)).toEqual(['EL.m1', 'EL.m1']);
    expect(rear!.fits.map((f) => f.contour)).toEqual(['EL.m2', 'EL.m2']);
  });
});

function reverse(loop: Spoilable<Master>['parts'][number]['outline']): void {
  const points = [loop.start, ...loop.segments.map((s) => s.to)].reverse();
  loop.start = points[0]!;
  loop.segments = points.slice(1).map((to) => ({ to }));
}

describe('allowances', () => {
  it('of a clearance of one’s own keep the width of the window', () => {
    expect(defaultAllowances('snug', 0.12).thickness).toEqual({ wanted: 0.12, window: [0.07, 0.17] });
    expect(defaultAllowances('snug').thickness).toEqual({ wanted: 0.1, window: [0.05, 0.15] });
    expect(() => defaultAllowances('snug', Number.NaN)).toThrow(RangeError);
  });

  it('may differ from joint to joint', () => {
    const perJoint = { 'M-EL-S1': { thickness: { wanted: 0.25, window: [0.15, 0.4] as const } } };
    const found = valueIn(findJoints(demo, { ...allowances, perJoint }));
    const own = found.joints[0]!.fits;
    expect(own.map((f) => f.wanted)).toEqual([0.25, 0.25, 0.2, 0.2]);
    expect(found.joints.slice(1)).toEqual(joinery.joints.slice(1));
  });
});
