import { type FitForecast, predictFits } from '@haunch/gauge';
import { seededRandom } from '@haunch/nesting';

/** Seconds for the forecast of 40 joints with 20,000 simulated pieces. */
export function forecastSeconds(): number {
  const sources = ['cutter', 'map of a', 'map of b'].map((id) => ({
    id,
    u: 0.02,
    remedy: { what: id, u: 0.01 },
  }));
  const fits = Array.from(
    { length: 40 },
    (_, i): FitForecast => ({
      id: `fit-${i}`,
      clearance: 0.1,
      window: [0.05, 0.15],
      shares: { cutter: 1, [i % 2 === 0 ? 'map of a' : 'map of b']: -1 },
      own: 0.02,
    }),
  );
  const started = performance.now();
  predictFits(fits, sources, { random: seededRandom(1), runs: 20_000 });
  return (performance.now() - started) / 1000;
}
