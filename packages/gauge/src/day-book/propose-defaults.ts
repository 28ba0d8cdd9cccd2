import { fitGaussian } from '../map/gaussian-fit.js';
import type { DayBookEntry } from './day-book-entry.js';

/** A clearance proposed for a shop's own table, for it to accept or not. mm. */
export interface ProposedClearance {
  readonly kind: 'proposed-clearance';
  readonly stock: string;
  readonly family: 'drive' | 'snug' | 'slip';
  readonly proposed: number;
  /** Standard uncertainty of the proposal. */
  readonly u: number;
  /** How many ladders and felt joints speak for it. */
  readonly from: number;
}

/** The trade's clearances and how far shops differ from them: what a proposal is drawn towards. mm; common practice, no source. */
const TRADE = { drive: 0, snug: 0.1, slip: 0.25 } as const;
const SHOPS_DIFFER = 0.05;
/** How much ladders of one shop and stock differ among themselves, mm. */
const LADDERS_DIFFER = 0.03;
/** A joint that felt tight or loose was so much off what is wanted, give or take. mm */
const FELT_OFF = 0.08;
const FELT_DOUBT = 0.06;

/**
 * What the day book's ladders and felt joints say of each stock's clearances, drawn towards the trade's figures by as much as
 * the data are few (a normal expectation updated by normal sightings), with the uncertainty that is left. Proposals only:
 * nothing in this package applies them.
 */
export function proposeDefaults(entries: readonly DayBookEntry[]): ProposedClearance[] {
  const stocks = [...new Set(entries.flatMap((e) => ('stock' in e ? [e.stock] : [])))].sort();
  return stocks.flatMap((stock) =>
    (['drive', 'snug', 'slip'] as const).flatMap((family): ProposedClearance[] => {
      const sightings = entries.flatMap((e): { value: number; noise: number }[] => {
        if (e.kind === 'ladder' && e.stock === stock)
          return [{ value: e[family], noise: LADDERS_DIFFER ** 2 + e.u ** 2 }];
        // Joints are cut to be snug; what they felt like speaks for that family alone.
        if (e.kind === 'felt' && e.stock === stock && family === 'snug') {
          const off = e.felt === 'tight' ? FELT_OFF : e.felt === 'loose' ? -FELT_OFF : 0;
          return [{ value: e.foretold + off, noise: FELT_DOUBT ** 2 }];
        }
        return [];
      });
      if (sightings.length === 0) return [];
      const fit = fitGaussian({
        rows: sightings.map(() => [1]),
        values: sightings.map((s) => s.value - TRADE[family]),
        noise: sightings.map((s) => s.noise),
        prior: [SHOPS_DIFFER ** 2],
      });
      return [
        {
          kind: 'proposed-clearance',
          stock,
          family,
          proposed: TRADE[family] + fit.mean[0]!,
          u: Math.sqrt(fit.covariance[0]![0]!),
          from: sightings.length,
        },
      ];
    }),
  );
}
