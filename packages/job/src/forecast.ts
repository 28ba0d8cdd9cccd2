import {
  type ErrorSource,
  type FitForecast,
  nextReadings,
  type Prediction,
  predictFits,
} from '@haunch/gauge';
import { type Point, ringBounds } from '@haunch/geometry';
import { type Board, type Fit, type JointProof, thicknessAt } from '@haunch/model';
import { seededRandom } from '@haunch/nesting';
import type { Job } from './job.js';
import type { LaidBoard } from './lay-job.js';

/** What the cutter's size and the fit's feel leave open. mm; common practice, no source. */
const CUTTER_BY_LABEL = 0.04;
/** From slot to slot of one machine: deflection, backlash, runout. mm; common practice, no source. */
const SLOT_TO_SLOT = 0.02;
/** A ladder of the usual steps leaves its feel open by this much: a twentieth, anywhere between two rungs. mm */
const BY_LADDER = 0.05 / Math.sqrt(12);
const RUNS = 20_000;

const boxMiddle = (placed: LaidBoard['items'][number]): Point => {
  const { minX, minY, maxX, maxY } = ringBounds(placed.part.outline.ring);
  return { x: (minX + maxX) / 2, y: (minY + maxY) / 2 };
};

/** What the fit's feel leaves open, and what the cutter's size does: a slot aimed by a rung hangs on the first alone, ends on the second. */
function cutterSources(job: Job): ErrorSource[] {
  const { ladder } = job;
  const ladderHelps = { what: 'a ladder on this sheet with this cutter', u: BY_LADDER };
  const felt = ladder.kind === 'felt' ? ladder.reading.u : CUTTER_BY_LABEL;
  const size = ladder.kind === 'felt' && ladder.measured ? ladder.measured.u : CUTTER_BY_LABEL;
  return [
    {
      id: 'feel',
      u: felt,
      remedy:
        ladder.kind === 'felt' ? { what: 'a ladder with steps of half the size', u: felt / 2 } : ladderHelps,
    },
    {
      id: 'cutter',
      u: size,
      remedy: { what: 'a slot and a peg of the ladder measured', u: Math.min(size, 0.011) },
    },
  ];
}

/** The map of each board as a source of error, at the places of its parts, and what three further readings would leave of it. */
function mapSource({ board, items }: LaidBoard): ErrorSource | undefined {
  const { map } = board;
  if (!map) return undefined;
  const where = items.map(boxMiddle);
  const mean =
    where.reduce((sum, at) => sum + thicknessAt(map, at).surfaceU ** 2, 0) / Math.max(1, where.length);
  const u = Math.sqrt(mean);
  const next = nextReadings(map, board.outline, { where });
  const last = next.at(-1);
  return {
    id: `map of ${board.id}`,
    u,
    ...(last
      ? {
          remedy: {
            what: `readings of ${board.id} at ${next.map(({ at }) => `(${at.x}, ${at.y})`).join(', ')}`,
            u: Math.min(u, last.after),
          },
        }
      : {}),
  };
}

/** How much a fit takes of each: of the feel once in a slot, half with one wall; of the cutter's size twice between ends. */
const toolShares = (fit: Fit): Record<string, number> =>
  fit.kind === 'ends'
    ? { cutter: fit.walls.length }
    : fit.kind === 'thickness'
      ? { feel: fit.walls.length / 2 }
      : {};

/** The outcome to expect of every fit of a made job, and what would help most. Deterministic for the job's seed. */
export function forecastJob(
  job: Job,
  boards: readonly LaidBoard[],
  fits: readonly Fit[],
  joints: readonly JointProof[],
): Prediction {
  const boardOf = new Map<string, Board>(
    boards.flatMap((b) => b.items.map((i) => [i.item, b.board] as const)),
  );
  const proofs = new Map(joints.flatMap((j) => j.fits.map((f) => [f.fit, f] as const)));
  const sources = [...cutterSources(job), ...boards.flatMap((b) => mapSource(b) ?? [])];
  const forecasts = fits.map((fit): FitForecast => {
    const board = boardOf.get(fit.enteringPart);
    const thick = fit.kind === 'thickness' && board?.map !== undefined;
    const half = fit.walls.length / 2;
    return {
      id: fit.id,
      clearance: proofs.get(fit.id)?.least ?? fit.wanted,
      window: fit.window,
      shares: { ...toolShares(fit), ...(thick ? { [`map of ${board.id}`]: -half } : {}) },
      own: Math.hypot(fit.kind === 'seat' ? 0 : SLOT_TO_SLOT, thick ? board.map!.local * half : 0),
    };
  });
  return predictFits(forecasts, sources, { random: seededRandom(job.settings.seed), runs: RUNS });
}
