import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { diameterNow } from './cutter-history.js';
import { effectiveDiameter } from './effective-diameter.js';

describe('effectiveDiameter', () => {
  it('finds the cutter and the calliper apart: any diameter, any small common bias', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -0.3, max: 0.3, noNaN: true }),
        fc.double({ min: -0.029, max: 0.029, noNaN: true }),
        (delta, bias) => {
          const found = effectiveDiameter({
            nominal: 6,
            slots: [{ cut: 18, measured: 18 + delta + bias }],
            pegs: [{ cut: 20, measured: 20 - delta + bias }],
          });
          if (!found.ok) throw new Error(found.diagnostics[0]?.message);
          expect(found.value.diameter).toBeCloseTo(6 + delta, 9);
          expect(found.value.bias).toBeCloseTo(bias, 9);
        },
      ),
    );
  });

  it('gets surer with more slots and pegs', () => {
    const one = effectiveDiameter({
      nominal: 6,
      slots: [{ cut: 18, measured: 18 }],
      pegs: [{ cut: 20, measured: 20 }],
    });
    const four = effectiveDiameter({
      nominal: 6,
      slots: Array.from({ length: 4 }, () => ({ cut: 18, measured: 18 })),
      pegs: Array.from({ length: 4 }, () => ({ cut: 20, measured: 20 })),
    });
    if (!one.ok || !four.ok) throw new Error('refused');
    expect(one.value.u / four.value.u).toBeCloseTo(2, 9);
  });

  it('refuses a common bias beyond 0.03 mm and names both figures', () => {
    const found = effectiveDiameter({
      nominal: 6,
      slots: [{ cut: 18, measured: 18.05 }],
      pegs: [{ cut: 20, measured: 20.04 }],
    });
    expect(found.ok).toBe(false);
    expect(found.diagnostics[0]?.code).toBe('gauge/common-bias');
    expect(found.diagnostics[0]?.message).toContain('0.045 mm');
  });

  it('warns of a diameter more than 0.3 mm or 5 % from what the job says, and of none nearer', () => {
    const by = (nominal: number, more: number) =>
      effectiveDiameter({
        nominal,
        slots: [{ cut: 18, measured: 18 + more }],
        pegs: [{ cut: 20, measured: 20 - more }],
      }).diagnostics.map((d) => d.code);
    expect(by(12, 0.31)).toEqual(['gauge/other-cutter']);
    expect(by(12, -0.31)).toEqual(['gauge/other-cutter']);
    expect(by(12, 0.29)).toEqual([]);
    expect(by(4, 0.21)).toEqual(['gauge/other-cutter']);
    expect(by(4, 0.19)).toEqual([]);
  });

  it('names a slip of the point or an inch at the calliper, and what may have been meant', () => {
    const said = (slot: number, peg: number) => {
      const found = effectiveDiameter({
        nominal: 6,
        slots: [{ cut: 19.94, measured: slot }],
        pegs: [{ cut: 19.94, measured: peg }],
      });
      return found.diagnostics.map((d) => `${d.code} ${d.message} ${d.hint}`);
    };
    expect(said(2.003, 19.92)).toEqual([
      'gauge/impossible-measure the slot cut 19.94 mm wide cannot measure 2.003 mm Perhaps 20.03 mm was meant; measure again.',
    ]);
    expect(said(19.97, 0.785)[0]).toContain('the peg cut 19.94 mm wide cannot measure 0.785 mm');
    expect(said(19.97, 0.785)[0]).toContain('in inches');
    expect(said(19.97, 19.92)).toEqual([]);
  });

  it('refuses a slot without a peg', () => {
    const found = effectiveDiameter({ nominal: 6, slots: [{ cut: 18, measured: 18 }], pegs: [] });
    expect(found.diagnostics[0]?.code).toBe('gauge/no-slot-or-peg');
  });
});

describe('diameterNow', () => {
  const seen = (metres: number, diameter: number, grinding = 0) => ({ metres, diameter, u: 0.005, grinding });

  it('follows wear that the ladders show', () => {
    const now = diameterNow({
      id: 'comp-6',
      grinding: 0,
      metres: 400,
      sightings: [seen(0, 6), seen(100, 5.995), seen(200, 5.99), seen(300, 5.985), seen(400, 5.98)],
    });
    if (!now.ok) throw new Error(now.diagnostics[0]?.message);
    expect(now.value.diameter).toBeCloseTo(5.98, 2);
    expect(now.value.wear).toBeLessThan(-3e-5);
    expect(now.value.metresLeft).toBeGreaterThan(0);
  });

  it('asks for a new ladder once wear may have used up the limit, and foretells when', () => {
    const history = { id: 'comp-6', grinding: 0, metres: 0, sightings: [seen(0, 6)] };
    const fresh = diameterNow(history);
    if (!fresh.ok) throw new Error('refused');
    expect(diameterNow({ ...history, metres: fresh.value.metresLeft - 1 }).ok).toBe(true);
    const due = diameterNow({ ...history, metres: fresh.value.metresLeft + 1 });
    expect(due.diagnostics[0]?.code).toBe('gauge/ladder-due');
  });

  it('lets a cutter go on whose ladder was felt but not measured, and counts its wear from there', () => {
    const felt = (
      at: number,
      metres: number,
      sightings: { metres: number; diameter: number; u: number; grinding: number }[] = [],
    ) =>
      diameterNow(
        { id: 'comp-6', grinding: 0, metres, sightings, ladders: [{ metres: at, grinding: 0 }] },
        { nominal: 6 },
      );
    const fresh = felt(100, 100);
    if (!fresh.ok) throw new Error(fresh.diagnostics[0]?.message);
    expect(fresh.value.diameter).toBeCloseTo(6, 9);
    expect(fresh.value.u).toBeGreaterThan(0.03);
    expect(felt(100, 100 + fresh.value.metresLeft + 1).diagnostics[0]?.code).toBe('gauge/ladder-due');
    // Measured long ago, felt just now: the rungs speak for the cutter as it is.
    expect(felt(1000, 1000, [seen(0, 6)]).ok).toBe(true);
    expect(felt(0, 1000, [seen(0, 6)]).diagnostics[0]?.code).toBe('gauge/ladder-due');
    const ground = diameterNow(
      { id: 'comp-6', grinding: 1, metres: 0, sightings: [], ladders: [{ metres: 0, grinding: 0 }] },
      { nominal: 6 },
    );
    expect(ground.diagnostics[0]?.message).toContain('ground or swapped');
  });

  it('does not believe the old diameter of a reground cutter', () => {
    const now = diameterNow({ id: 'comp-6', grinding: 1, metres: 500, sightings: [seen(0, 6, 0)] });
    expect(now.ok).toBe(false);
    expect(now.diagnostics[0]?.message).toContain('ground or swapped');
    expect(
      diameterNow({ id: 'new', grinding: 0, metres: 0, sightings: [] }).diagnostics[0]?.message,
    ).toContain('never');
  });
});
