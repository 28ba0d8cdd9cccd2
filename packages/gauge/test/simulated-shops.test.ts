import { thicknessAt } from '@haunch/model';
import { describe, expect, it } from 'vitest';
import {
  type CalibrationLength,
  calibrateMachine,
  coverageFactor,
  diameterNow,
  effectiveDiameter,
  FELT,
  mapDoubt,
  normalQuantile,
  predictFits,
  readLadder,
  rungsOf,
  standardNormal,
  USUAL_REPEATABILITY,
  USUAL_SHEET,
  USUAL_STEPS,
  USUAL_WEAR,
} from '../src/index.js';
import { EIGHT, mapOf, numbers } from './measured-sheet.js';

/** Simulated shops: a truth that is known, and readings of it with the noise that is stated. */
const RUNS = 2400;
const LEVELS = [0.5, 0.95] as const;
/** Three and a half standard errors of a share over so many runs: one false alarm in two thousand. */
const error = (p: number, runs = RUNS): number => 3.5 * Math.sqrt((p * (1 - p)) / runs);

/** Counts how often a normal interval about an estimate holds the truth, level by level. */
function held() {
  const counts = LEVELS.map(() => 0);
  let runs = 0;
  return {
    see(truth: number, value: number, u: number, k = (p: number) => normalQuantile((1 + p) / 2)) {
      runs++;
      LEVELS.forEach((p, i) => {
        if (Math.abs(truth - value) <= k(p) * u) counts[i]!++;
      });
    },
    asOftenAsSaid(what: string) {
      expect(runs, what).toBeGreaterThanOrEqual(2000);
      for (const [i, p] of LEVELS.entries())
        expect(
          Math.abs(counts[i]! / runs - p),
          `${what}: ${counts[i]! / runs} where ${p} is said`,
        ).toBeLessThan(error(p, runs));
    },
  };
}

describe('stated intervals hold the truth as often as they say, in simulated shops', () => {
  it('of a cutter’s diameter and of what slot and peg have in common', { timeout: 60_000 }, () => {
    const normal = standardNormal(numbers(101));
    for (const count of [1, 3]) {
      const [size, bias] = [held(), held()];
      for (let run = 0; run < RUNS; run++) {
        const [off, common] = [0.04 * normal(), 0.004 * normal()];
        const read = (cut: number, by: number) => ({
          cut,
          measured: cut + by + common + USUAL_REPEATABILITY * normal(),
        });
        const found = effectiveDiameter({
          nominal: 6,
          slots: Array.from({ length: count }, () => read(20, off)),
          pegs: Array.from({ length: count }, () => read(20, -off)),
        });
        // What is common beyond 0.03 mm is refused: it says nothing of the diameter, but cuts the other's tails off.
        if (!found.ok) continue;
        size.see(6 + off, found.value.diameter, found.value.u);
        bias.see(common, found.value.bias, found.value.biasU);
      }
      size.asOftenAsSaid(`diameter from ${count}`);
      if (count > 1) bias.asOftenAsSaid(`common part from ${count}`);
    }
  });

  it('of the diameter to reckon with, and of the wear, after metres run', { timeout: 60_000 }, () => {
    const normal = standardNormal(numbers(102));
    const [size, wear] = [held(), held()];
    for (let run = 0; run < RUNS; run++) {
      const perMetre = USUAL_WEAR.perMetre + USUAL_WEAR.doubt * normal();
      const first = 6 + 0.04 * normal();
      const u = 0.0106;
      const at = [0, 220, 600, 900].map((metres) => ({
        metres,
        diameter: first + perMetre * metres + u * normal(),
        u,
        grinding: 0,
      }));
      const known = diameterNow({ id: 'r', grinding: 0, metres: 1000, sightings: at }, { limit: 1 });
      if (!known.ok) throw new Error(known.diagnostics[0]?.message);
      size.see(first + perMetre * 1000, known.value.diameter, known.value.u);
      wear.see(perMetre, known.value.wear, known.value.wearU);
    }
    size.asOftenAsSaid('diameter now');
    wear.asOftenAsSaid('wear');
  });

  it('of a machine’s scales, squareness, backlash and cutter', { timeout: 60_000 }, () => {
    const normal = standardNormal(numbers(103));
    const names = ['scaleX', 'scaleY', 'shear', 'backlashX', 'backlashY', 'cutter'] as const;
    const kept = names.map(held);
    let refused = 0;
    for (let run = 0; run < RUNS; run++) {
      const truth = {
        scaleX: 5e-4 * normal(),
        scaleY: 5e-4 * normal(),
        shear: 8e-4 * normal(),
        backlashX: 0.05 * normal(),
        backlashY: 0.05 * normal(),
        cutter: 0.05 * normal(),
      };
      const lengths: CalibrationLength[] = [];
      const noise = () => USUAL_REPEATABILITY * normal();
      for (const axis of ['x', 'y'] as const) {
        const [scale, back] =
          axis === 'x' ? [truth.scaleX, truth.backlashX] : [truth.scaleY, truth.backlashY];
        for (const cut of [100, 400, 800]) {
          for (const approach of ['same', 'opposite'] as const)
            lengths.push({
              kind: 'pitch',
              axis,
              cut,
              approach,
              measured: cut * (1 + scale) + (approach === 'opposite' ? back : 0) + noise(),
            });
        }
        lengths.push({ kind: 'inside', axis, cut: 40, measured: 40 * (1 + scale) + truth.cutter + noise() });
        lengths.push({ kind: 'outside', axis, cut: 40, measured: 40 * (1 + scale) - truth.cutter + noise() });
      }
      for (const dy of [600, -600]) {
        const there = { x: (1 + truth.scaleX) * 800 + truth.shear * dy, y: (1 + truth.scaleY) * dy };
        lengths.push({ kind: 'diagonal', dx: 800, dy, measured: Math.hypot(there.x, there.y) + noise() });
      }
      const found = calibrateMachine(lengths);
      if (!found.ok) {
        refused++;
        continue;
      }
      names.forEach((n, i) => void kept[i]!.see(truth[n], found.value[n].value, found.value[n].u));
    }
    names.forEach((n, i) => void kept[i]!.asOftenAsSaid(n));
    // Sound lengths are seldom called contradictory: one machine in a hundred at the most.
    expect(refused / RUNS).toBeLessThan(0.01);
  });

  it('of where "by hand" begins, whichever rungs were answered', { timeout: 60_000 }, () => {
    const random = numbers(104);
    const rungs = rungsOf(USUAL_STEPS);
    const [whole, middle] = [held(), { squares: 0, said: 0, runs: 0 }];
    let inside = 0;
    for (let run = 0; run < RUNS; run++) {
      const hand = -0.02 + 0.2 * random();
      const [mallet, rattle] = [hand - 0.06, hand + 0.09 + 0.05 * random()];
      const answers = rungs
        .filter((r) => r.axis === 'x' && random() < 0.8)
        .map(({ id, clearance: c }) => ({
          rung: id,
          felt: FELT[c < mallet ? 0 : c < hand ? 1 : c < rattle ? 2 : 3]!,
        }));
      const read = readLadder(rungs, answers.length > 0 ? answers : [{ rung: 'x7', felt: 'rattles' }]);
      if (!read.ok || read.value.thresholds.hand.from === null || read.value.thresholds.hand.to === null)
        continue;
      const { from, to } = read.value.thresholds.hand;
      if (hand > from && hand <= to) inside++;
      middle.runs++;
      const [centre, half] = [(from + to) / 2, (to - from) / 2];
      middle.squares += ((hand - centre) / half) ** 2 * 3;
      // Anywhere between two rungs alike: a share p of it about the middle.
      whole.see(hand, centre, half, (p) => p);
      if (read.value.snug === to) {
        middle.said++;
        expect(read.value.u).toBeCloseTo(Math.max(to - from, 0.025) / Math.sqrt(12), 9);
      }
    }
    expect(inside).toBe(middle.runs);
    expect(middle.said).toBeGreaterThan(0.9 * middle.runs);
    whole.asOftenAsSaid('by hand');
    // The standard uncertainty is that of a threshold anywhere between two rungs: width / √12 (JCGM 100:2008, 4.3.7).
    expect(Math.abs(middle.squares / middle.runs - 1)).toBeLessThan(3.5 * Math.sqrt(0.8 / middle.runs));
  });
});

describe('what is foretold of a joint, in simulated shops', () => {
  it('its clearance lies in the stated ranges, and it is tight or slack as often as said', {
    timeout: 240_000,
  }, () => {
    const random = numbers(105);
    const normal = standardNormal(random);
    const TWO = 0.9545;
    for (const count of [3, 8]) {
      const inside = { square: 0, simulated: 0, worst: 0 };
      const said = { tight: 0, slack: 0, tightVar: 0, slackVar: 0 };
      const came = { tight: 0, slack: 0 };
      const bins = [0.02, 0.1, 0.3, 0.6, 1].map((to) => ({ to, said: 0, came: 0, variance: 0 }));
      for (let run = 0; run < RUNS; run++) {
        const scale = [1, 1, 0.5, 0.5, 0.5].map((s) => s * USUAL_SHEET.slope * normal());
        const kind = run % 3;
        const local = USUAL_SHEET.local * Math.exp(USUAL_SHEET.localDoubt * normal());
        const truth = ({ x, y }: { x: number; y: number }) => {
          const [a, b] = [(x - 1220) / 1220, (y - 610) / 610];
          const slope = kind === 0 ? 0 : scale[0]! * a + scale[1]! * b;
          const bow = kind < 2 ? 0 : scale[2]! * a * a + scale[3]! * a * b + scale[4]! * b * b;
          return 18 + slope + bow + local * normal();
        };
        const places = count === 8 ? EIGHT : [EIGHT[0]!, EIGHT[2]!, EIGHT[5]!];
        const map = mapOf(
          places.map((at) => ({ thickness: truth(at) + USUAL_REPEATABILITY * normal(), at })),
        );
        const at = { x: 200 + 2000 * random(), y: 150 + 900 * random() };
        const off = 0.04 * normal();
        const size = effectiveDiameter({
          nominal: 6,
          slots: [{ cut: 20, measured: 20 + off + USUAL_REPEATABILITY * normal() }],
          pegs: [{ cut: 20, measured: 20 - off + USUAL_REPEATABILITY * normal() }],
        });
        if (!size.ok) continue;
        const aim = 0.1 + 0.06 * (random() - 0.5);
        const slot = thicknessAt(map, at).thickness + aim + (6 + off - size.value.diameter) + 0.02 * normal();
        const clearance = slot - truth(at);
        const doubt = mapDoubt(map, [at]);
        const [fit] = predictFits(
          [
            {
              id: 'f',
              clearance: aim,
              window: [0.05, 0.15],
              shares: { map: -1, cutter: 1 },
              own: Math.hypot(0.02, doubt.local),
            },
          ],
          [
            { id: 'map', u: doubt.surface },
            { id: 'cutter', u: size.value.u },
          ],
          { random, runs: 400 },
        ).fits;
        const within = ([low, high]: readonly [number, number]) => clearance >= low && clearance <= high;
        if (within(fit!.rootSumSquare)) inside.square++;
        if (within(fit!.worstCase)) inside.worst++;
        if (within(fit!.monteCarlo)) inside.simulated++;
        for (const way of ['tight', 'slack'] as const) {
          const happened = way === 'tight' ? clearance < 0.05 : clearance > 0.15;
          const p = fit![way];
          said[way] += p;
          said[`${way}Var`] += p * (1 - p);
          if (happened) came[way]++;
          const bin = bins.find((b) => p <= b.to)!;
          bin.said += p;
          bin.variance += p * (1 - p);
          if (happened) bin.came++;
        }
      }
      const figures = JSON.stringify({ count, inside, said, came, bins });
      expect(Math.abs(inside.square / RUNS - TWO), figures).toBeLessThan(error(TWO));
      // 400 simulated runs place their own ends no better than this.
      expect(Math.abs(inside.simulated / RUNS - TWO), figures).toBeLessThan(error(TWO) + 0.01);
      expect(inside.worst, figures).toBeGreaterThanOrEqual(inside.square);
      for (const way of ['tight', 'slack'] as const)
        expect(Math.abs(came[way] - said[way]), figures).toBeLessThan(3.5 * Math.sqrt(said[`${way}Var`]));
      for (const b of bins)
        expect(Math.abs(b.came - b.said), `${b.to}: ${figures}`).toBeLessThan(
          3.5 * Math.sqrt(b.variance) + 1,
        );
    }
  });

  it('a Student interval of a map is wider than a normal one of the same u, by its degrees of freedom', () => {
    const map = mapOf(EIGHT.map((at, i) => ({ thickness: 17.7 + 0.01 * (i % 3), at })));
    expect(coverageFactor(0.9545, map.degreesOfFreedom)).toBeGreaterThan(coverageFactor(0.9545, 1e6));
    const { surface, local } = mapDoubt(map, [{ x: 900, y: 500 }]);
    expect(Math.hypot(surface, local)).toBeGreaterThan(thicknessAt(map, { x: 900, y: 500 }).u);
  });
});
