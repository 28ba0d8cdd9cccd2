import { rectangleRing } from '@haunch/geometry';
import { thicknessAt } from '@haunch/model';
import { fitThicknessMap } from '../map/fit-thickness-map.js';
import { USUAL_SHEET } from '../map/practice.js';
import type { ThicknessReading } from '../map/thickness-reading.js';
import { standardNormal } from '../statistics/standard-normal.js';

/** One way of working, and what came of it over many simulated shops: means per piece. */
export interface WayOutcome {
  readonly way: 'a' | 'b' | 'c' | 'd' | 'e';
  readonly what: string;
  readonly tight: number;
  readonly loose: number;
  /** Share of pieces of which every fit was right first time. */
  readonly right: number;
}

const WAYS: readonly (readonly [WayOutcome['way'], string])[] = [
  ['a', 'nearest 0.5 mm file, cutter as on its label'],
  ['b', 'one calliper reading in a corner, cutter as on its label'],
  ['c', 'mean of eight readings and a ladder'],
  ['d', 'thickness map, a width for every pair, a ladder'],
  ['e', 'as d, on a tight machine and a sheet read at twenty places'],
];

/** The piece that is simulated: so many plates in slots, right with a clearance in this window. mm; common practice, no source. */
const FITS = 29;
const WINDOW = [0, 0.2] as const;
const AIM = 0.1;

/** The shop that is simulated: standard deviations, mm. Assumptions of ours; only the ranking of the ways matters. */
const SHOP = {
  sheetMean: 0.3,
  cutterMean: -0.04,
  cutter: 0.04,
  calliper: 0.015,
  calliperBias: 0.01,
  /** Edges are thinner than the sheet inside (sander run-off): what a reading in the corner misses. */
  edge: -0.05,
  /** A machine's error from slot to slot, ordinary and tight. */
  slot: 0.03,
  tightSlot: 0.015,
  /** What reading a ladder leaves open. */
  ladder: 0.015,
};

const SHEET = rectangleRing(0, 0, 2440, 1220);
const grid = (nx: number, ny: number): { x: number; y: number }[] =>
  Array.from({ length: nx * ny }, (_, i) => ({
    x: 60 + (2320 * (i % nx)) / (nx - 1),
    y: 60 + (1100 * Math.floor(i / nx)) / (ny - 1),
  }));
const EIGHT = grid(3, 3).filter((_, i) => i !== 4);
const TWENTY = grid(5, 4);

/**
 * Simulates shops with a true sheet, cutter and calliper and lets each cut the same piece in five ways of working, from
 * the nearest of several drawing files to a width for every placed pair: the number of fits too tight and too loose, and of
 * pieces right first time. The figures rest on assumptions of ours; the ranking is what they are for.
 */
export function compareWorkingWays(run: {
  readonly random: () => number;
  readonly runs: number;
}): WayOutcome[] {
  const normal = standardNormal(run.random);
  const totals = WAYS.map(() => ({ tight: 0, loose: 0, right: 0 }));
  for (let k = 0; k < run.runs; k++) {
    const mean = 18 + SHOP.sheetMean * normal();
    const [sx, sy] = [USUAL_SHEET.slope * normal(), USUAL_SHEET.slope * normal()];
    const [bx, by, bxy] = [
      USUAL_SHEET.bow * normal(),
      USUAL_SHEET.bow * normal(),
      USUAL_SHEET.bow * normal(),
    ];
    const local = USUAL_SHEET.local * Math.exp(USUAL_SHEET.localDoubt * normal());
    const surface = ({ x, y }: { x: number; y: number }): number => {
      const [u, v] = [(x - 1220) / 1220, (y - 610) / 610];
      return mean + sx * u + sy * v + bx * u * u + bxy * u * v + by * v * v;
    };
    const cutter = SHOP.cutterMean + SHOP.cutter * normal();
    const bias = SHOP.calliperBias * normal();
    const read = (at: { x: number; y: number }): ThicknessReading => ({
      at,
      thickness: surface(at) + local * normal() + bias + SHOP.calliper * normal(),
    });
    const eight = EIGHT.map(read);
    const eightMean = eight.reduce((sum, r) => sum + r.thickness, 0) / eight.length;
    const map = fitThicknessMap(eight, SHEET);
    const fine = fitThicknessMap(TWENTY.map(read), SHEET);
    const corner = surface({ x: 30, y: 30 }) + SHOP.edge + bias + SHOP.calliper * normal();
    // A ladder shows cutter and calliper together, as they act on a slot that is set by the same calliper, to within its steps.
    const ladder = cutter + bias + SHOP.ladder * normal();
    const fits = Array.from({ length: FITS }, () => {
      const at = { x: 150 + 2140 * run.random(), y: 120 + 980 * run.random() };
      return { at, thickness: surface(at) + local * normal(), error: normal() };
    });
    const told = (outcome: typeof map, at: { x: number; y: number }): number =>
      outcome.ok ? thicknessAt(outcome.value, at).thickness : eightMean;
    WAYS.forEach(([way], w) => {
      let [tight, loose] = [0, 0];
      for (const { at, thickness, error } of fits) {
        const believed =
          way === 'a'
            ? Math.round(corner * 2) / 2
            : way === 'b'
              ? corner
              : way === 'c'
                ? eightMean
                : told(way === 'd' ? map : fine, at);
        const correction = way === 'a' || way === 'b' ? 0 : -ladder;
        const slot =
          believed + AIM + correction + cutter + (way === 'e' ? SHOP.tightSlot : SHOP.slot) * error;
        const clearance = slot - thickness;
        if (clearance < WINDOW[0]) tight++;
        else if (clearance > WINDOW[1]) loose++;
      }
      const total = totals[w]!;
      total.tight += tight;
      total.loose += loose;
      if (tight + loose === 0) total.right++;
    });
  }
  return WAYS.map(([way, what], w) => ({
    way,
    what,
    tight: totals[w]!.tight / run.runs,
    loose: totals[w]!.loose / run.runs,
    right: totals[w]!.right / run.runs,
  }));
}
