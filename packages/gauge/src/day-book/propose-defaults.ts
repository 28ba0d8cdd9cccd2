import { fitGaussian } from '../map/gaussian-fit.js';
import { normalCdf } from '../statistics/normal.js';
import type { DayBookEntry } from './day-book-entry.js';
import { inOrderOfTime } from './instant.js';

/** A clearance proposed for a shop's own table, for it to accept or not. mm. */
export interface ProposedClearance {
  readonly kind: 'proposed-clearance';
  /** What it is for: a material as jobs name it, or a stock where none was said. */
  readonly material: string;
  readonly family: 'drive' | 'snug' | 'slip';
  readonly proposed: number;
  /** Standard uncertainty of the proposal. */
  readonly u: number;
  /** What the trade uses, towards which it is drawn, and by how much: 1 nothing is known, 0 the shop's own sightings alone speak. */
  readonly trade: number;
  readonly shrinkage: number;
  /** How many ladders and felt joints speak for it. */
  readonly ladders: number;
  readonly joints: number;
}

/** The trade's clearances and how far shops differ from them: what a proposal is drawn towards. mm; common practice, no source. */
export const TRADE = { drive: 0, snug: 0.1, slip: 0.25 } as const;
export const SHOPS_DIFFER = 0.05;
/** How much ladders, and whole pieces, of one shop and material differ among themselves, mm. */
export const LADDERS_DIFFER = 0.03;
export const MAKES_DIFFER = 0.03;
/** A joint feels right within so much of what its shop wants; its own clearance is foretold within this. mm */
export const FEELS_RIGHT = 0.05;
export const JOINT_DOUBT = 0.03;

/** The clearances tried for what a shop wants: this many standard deviations about the trade's, in so many steps. */
const REACH = 5;
const STEPS = 400;
/** A piece's common error is tried at so many values over ± 3 standard deviations. */
const COMMON = 13;

type Felt = Extract<DayBookEntry, { kind: 'felt' }>;
type Ladder = Extract<DayBookEntry, { kind: 'ladder' }>;

const materialOf = ({ material, stock }: Felt | Ladder): string => material ?? stock;

/** Of joints felt twice in one piece the later word counts. */
function lastWords(felt: readonly Felt[]): Felt[] {
  const last = new Map<string, Felt>();
  for (const f of inOrderOfTime(felt)) last.set(JSON.stringify([f.job, f.make, f.joint]), f);
  return [...last.values()];
}

/** The chance of an answer where the shop wants `wanted` and the joint was foretold `foretold` and is off by `off` with its whole piece. */
function chanceOf({ felt, foretold }: Felt, wanted: number, off: number): number {
  const low = normalCdf((wanted - FEELS_RIGHT - foretold - off) / JOINT_DOUBT);
  const high = normalCdf((wanted + FEELS_RIGHT - foretold - off) / JOINT_DOUBT);
  return felt === 'tight' ? low : felt === 'loose' ? 1 - high : high - low;
}

/** How likely a shop that wants `wanted` makes all that was felt: joints of one piece share what was wrong with it. */
function logLikelihood(makes: readonly (readonly Felt[])[], wanted: number): number {
  return makes.reduce((sum, joints) => {
    const terms = Array.from({ length: COMMON }, (_, k) => {
      const z = 3 * ((2 * k) / (COMMON - 1) - 1);
      return joints.reduce(
        (s, f) => s + Math.log(Math.max(1e-12, chanceOf(f, wanted, z * MAKES_DIFFER))),
        (-z * z) / 2,
      );
    });
    const most = Math.max(...terms);
    return sum + most + Math.log(terms.reduce((s, t) => s + Math.exp(t - most), 0));
  }, 0);
}

/** What ladders alone leave: the trade's figure updated by each (a normal expectation, normal sightings). */
function byLadders(ladders: readonly Ladder[], family: ProposedClearance['family']) {
  const fit = fitGaussian({
    rows: ladders.map(() => [1]),
    values: ladders.map((l) => l[family] - TRADE[family]),
    noise: ladders.map((l) => LADDERS_DIFFER ** 2 + l.u ** 2),
    prior: [SHOPS_DIFFER ** 2],
  });
  return { mean: TRADE[family] + fit.mean[0]!, u: Math.sqrt(fit.covariance[0]![0]!) };
}

/** Mean and standard deviation once what was felt is added, over a grid of what the shop may want. */
function withFelt(mean: number, u: number, makes: readonly (readonly Felt[])[]) {
  const grid = Array.from({ length: STEPS + 1 }, (_, i) => mean + u * REACH * ((2 * i) / STEPS - 1));
  const logs = grid.map((c) => -(((c - mean) / u) ** 2) / 2 + logLikelihood(makes, c));
  const most = Math.max(...logs);
  const weights = logs.map((l) => Math.exp(l - most));
  const total = weights.reduce((s, w) => s + w, 0);
  const centre = grid.reduce((s, c, i) => s + c * weights[i]!, 0) / total;
  const variance = grid.reduce((s, c, i) => s + (c - centre) ** 2 * weights[i]!, 0) / total;
  return { mean: centre, u: Math.sqrt(variance) };
}

/**
 * What the day book's ladders and felt joints say of each material's clearances, drawn towards the trade's figures by as much as the data
 * are few, with the uncertainty that is left. Ladders are normal sightings; joints felt tight, right or loose are ordinal answers
 * (P. McCullagh, Regression models for ordinal data, 1980, with fixed thresholds), those of one piece with one error in common;
 * Bayes' rule over a grid. Joints are cut to be snug, so they speak for that family alone. Proposals only: nothing in this package
 * applies them.
 */
export function proposeDefaults(entries: readonly DayBookEntry[]): ProposedClearance[] {
  const ladders = entries.filter((e): e is Ladder => e.kind === 'ladder');
  const felt = lastWords(entries.filter((e): e is Felt => e.kind === 'felt'));
  const materials = [...new Set([...ladders, ...felt].map(materialOf))].sort();
  return materials.flatMap((material) =>
    (['drive', 'snug', 'slip'] as const).flatMap((family): ProposedClearance[] => {
      const own = ladders.filter((l) => materialOf(l) === material);
      const joints = family === 'snug' ? felt.filter((f) => materialOf(f) === material) : [];
      if (own.length + joints.length === 0) return [];
      const pieces = new Map<string, Felt[]>();
      for (const f of joints) {
        const piece = JSON.stringify([f.job, f.make]);
        pieces.set(piece, [...(pieces.get(piece) ?? []), f]);
      }
      const start = byLadders(own, family);
      const end = joints.length === 0 ? start : withFelt(start.mean, start.u, [...pieces.values()]);
      return [
        {
          kind: 'proposed-clearance',
          material,
          family,
          proposed: end.mean,
          u: end.u,
          trade: TRADE[family],
          shrinkage: Math.min(1, (end.u / SHOPS_DIFFER) ** 2),
          ladders: own.length,
          joints: joints.length,
        },
      ];
    }),
  );
}
