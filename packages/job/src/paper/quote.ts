import type { JobRates } from '../job-paper-schema.js';
import { areaLeft, type OffCutLeft } from '../off-cuts-left.js';
import type { PaperData, PaperSide } from './paper-data.js';
import { lastSides } from './ticket-text.js';

/** One line of a quote: what, how much of it, and its price; null where the job has no rate for it. */
export interface QuoteLine {
  readonly kind: 'machine' | 'bench' | 'sheet' | 'off-cut' | 'cutter';
  readonly what: string;
  readonly amount: number;
  readonly unit: 'min' | 'board' | 'm';
  readonly price: number | null;
}

/** What a job costs by the job's own rates. Money to the hundredth. */
export interface Quote {
  readonly currency: string | null;
  readonly lines: readonly QuoteLine[];
  /** Sum of the priced lines; null without rates. */
  readonly costs: number | null;
  readonly markUp: number | null;
  readonly tax: number | null;
  readonly total: number | null;
  /** What has no rate, so that it is in no sum. */
  readonly unpriced: readonly string[];
  readonly said: readonly string[];
}

const hundredth = (v: number): number => Math.round(v * 100) / 100;
const thousandth = (v: number): number => Math.round(v * 1000) / 1000;

const areaOf = ({ edge, width, height }: PaperSide): number => edge?.area ?? width * height;

/** The rate of a board: by its id, its stock or its material. */
function sheetPrice(side: PaperSide, { sheets }: JobRates): number | null {
  for (const name of [side.board, side.stock, side.material]) {
    const rate = sheets[name];
    if (rate === undefined) continue;
    if (typeof rate === 'number') return rate;
    return (rate.price * areaOf(side)) / (rate.width * rate.height);
  }
  return null;
}

/** The off-cuts of a board that are kept: all that are written for the next job, or by the rates those of a size that is worth it. */
export function keptOf({ offCuts }: PaperSide, rates: JobRates | undefined): readonly OffCutLeft[] {
  if (!rates) return offCuts;
  const [a, b] = rates.leastOffCut;
  return offCuts.filter(
    ({ width, height }) =>
      Math.max(width, height) >= Math.max(a, b) && Math.min(width, height) >= Math.min(a, b),
  );
}

/**
 * What a job takes: time at the machine and at the bench, boards less the off-cuts that are kept, wear of the cutters; and by the job's rates
 * what that costs. Amounts are as planned and forecast: the machine's own pace, and joints that come out otherwise, are not known.
 */
export function quoteOf(data: PaperData): Quote {
  const { report, sides, paper } = data;
  const { rates } = paper;
  const price = (v: number | null): number | null => (v === null ? null : hundredth(v));
  const hours = (minutes: number, rate: number | undefined): number | null =>
    rates === undefined || rate === undefined ? null : price((minutes / 60) * rate);
  const lines: QuoteLine[] = [];
  const bench = (what: string, minutes: number): void => {
    if (minutes > 0)
      lines.push({
        kind: 'bench',
        what,
        amount: hundredth(minutes),
        unit: 'min',
        price: hours(minutes, rates?.benchHour),
      });
  };
  for (const b of report.boards) {
    const minutes = b.seconds / 60;
    lines.push({
      kind: 'machine',
      what: `${b.id}, running`,
      amount: hundredth(minutes),
      unit: 'min',
      price: hours(minutes, rates?.machineHour),
    });
  }
  if (rates) {
    bench(`setting up, ${sides.length} × ${rates.setUpMinutes} min`, sides.length * rates.setUpMinutes);
    bench(
      `tabs and edges, ${report.parts.length} × ${rates.partMinutes} min`,
      report.parts.length * rates.partMinutes,
    );
    const tight = report.forecast.jointsTight;
    bench(
      `sanding, ${hundredth(tight)} joints expected × ${rates.sandMinutes} min`,
      tight * rates.sandMinutes,
    );
  }
  for (const side of lastSides(data)) {
    const whole = rates ? sheetPrice(side, rates) : null;
    lines.push({
      kind: 'sheet',
      what: `${side.board}, ${side.material}, ${side.width} × ${side.height} mm`,
      amount: 1,
      unit: 'board',
      price: price(whole),
    });
    for (const kept of keptOf(side, rates)) {
      const { id, width, height } = kept;
      const share = areaLeft(kept) / areaOf(side);
      lines.push({
        kind: 'off-cut',
        what: `${id}, kept: ${Math.floor(width)} × ${Math.floor(height)} mm`,
        amount: -thousandth(share),
        unit: 'board',
        price: rates && whole !== null ? price(-share * whole * rates.offCutCredit) : null,
      });
    }
  }
  const runs = new Map<string, number>();
  for (const r of report.boards.flatMap((b) => b.runs))
    runs.set(r.cutter, (runs.get(r.cutter) ?? 0) + r.metres);
  for (const [cutter, metres] of runs) {
    const rate = rates?.cutters[cutter];
    lines.push({
      kind: 'cutter',
      what: rate ? `${cutter}, ${Math.round((100 * metres) / rate.metres)} % of its life` : cutter,
      amount: thousandth(metres),
      unit: 'm',
      price: rate ? price((metres / rate.metres) * rate.price) : null,
    });
  }
  const costs = rates ? hundredth(lines.reduce((sum, l) => sum + (l.price ?? 0), 0)) : null;
  const markUp = rates && costs !== null ? hundredth(costs * rates.markUp) : null;
  const tax = rates && costs !== null && markUp !== null ? hundredth((costs + markUp) * rates.tax) : null;
  return {
    currency: rates?.currency ?? null,
    lines,
    costs,
    markUp,
    tax,
    total: costs === null ? null : hundredth(costs + (markUp ?? 0) + (tax ?? 0)),
    unpriced: rates ? lines.filter((l) => l.price === null).map((l) => l.what) : [],
    said: rates
      ? []
      : ['The job has no rates (paper.rates), so that amounts alone are stated and nothing is priced.'],
  };
}
