import {
  asDeviation,
  type ErrorSource,
  type FitForecast,
  mapDoubt,
  type Prediction,
  predictFits,
} from '@haunch/gauge';
import type { Board, Fit, JointProof } from '@haunch/model';
import { seededRandom } from '@haunch/nesting';
import type { Job } from './job.js';
import { feltFor } from './ladder-of-job.js';
import type { LaidBoard } from './lay-job.js';
import { placesThatMatter, readingsToTake } from './readings-to-take.js';

/** A ladder of the usual steps leaves its feel open by this much: a twentieth, anywhere between two rungs. mm */
const BY_LADDER = 0.05 / Math.sqrt(12);
const RUNS = 20_000;

/** The doubt of a cutter known by its label alone, as the shop's fits have it. mm */
const byLabel = (job: Job): number => job.fits.doubts.cutterByLabel?.value ?? 0.04;

/** The id of what feel leaves open in a material. */
const feelOf = (material: string): string => `feel in ${material}`;

/**
 * What the fits' feel leaves open, material by material, and what the cutter's size does: a slot aimed by a rung hangs on the
 * first alone, ends on the second.
 */
function cutterSources(job: Job, materials: readonly string[]): ErrorSource[] {
  const sightings = job.ladders.flatMap((l) => (l.kind === 'felt' && l.measured ? [l.measured.u] : []));
  const size =
    sightings.length > 0 ? 1 / Math.sqrt(sightings.reduce((sum, u) => sum + 1 / u ** 2, 0)) : byLabel(job);
  return [
    ...materials.map((material): ErrorSource => {
      const felt = feltFor(job.ladders, material);
      const u = felt?.reading.u ?? byLabel(job);
      return {
        id: feelOf(material),
        u,
        remedy: felt
          ? { what: `a ladder in ${material} with steps of half the size`, u: u / 2 }
          : { what: `a ladder in ${material} with this cutter`, u: Math.min(u, BY_LADDER) },
      };
    }),
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
  const where = placesThatMatter({ items });
  const u = mapDoubt(map, where).surface;
  const next = readingsToTake(board, where);
  const last = next.at(-1);
  return {
    id: `map of ${board.id}`,
    u,
    ...(last
      ? {
          remedy: {
            what: `readings of ${board.id} at ${next.map(({ at }) => `(${at.x}, ${at.y})`).join(', ')}`,
            u: Math.min(u, asDeviation(map, last.after)),
          },
        }
      : {}),
  };
}

/** How much a fit takes of each: of the feel once in a slot, half with one wall; of the cutter's size twice between ends. */
const toolShares = (fit: Fit, feel: string): Record<string, number> =>
  fit.kind === 'ends'
    ? { cutter: fit.walls.length }
    : fit.kind === 'thickness'
      ? { [feel]: fit.walls.length / 2 }
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
  const materialOn = (b: Board | undefined): string => job.materials.get(b?.stock ?? '') ?? b?.stock ?? '';
  const materials = [...new Set(fits.map((f) => materialOn(boardOf.get(f.slotPart))))].sort();
  const sources = [...cutterSources(job, materials), ...boards.flatMap((b) => mapSource(b) ?? [])];
  const forecasts = fits.map((fit): FitForecast => {
    const board = boardOf.get(fit.enteringPart);
    const thick = fit.kind === 'thickness' && board?.map !== undefined;
    const half = fit.walls.length / 2;
    return {
      id: fit.id,
      joint: fit.joint,
      clearance: proofs.get(fit.id)?.least ?? fit.wanted,
      window: fit.window,
      shares: {
        ...toolShares(fit, feelOf(materialOn(boardOf.get(fit.slotPart)))),
        ...(thick ? { [`map of ${board.id}`]: -half } : {}),
      },
      own: Math.hypot(
        fit.kind === 'seat' ? 0 : (job.fits.doubts.slotToSlot?.value ?? 0.02),
        thick ? asDeviation(board.map!, board.map!.local) * half : 0,
      ),
    };
  });
  return predictFits(forecasts, sources, { random: seededRandom(job.settings.seed), runs: RUNS });
}
