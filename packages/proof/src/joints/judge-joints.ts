import type { Fit, FitProof, Joint, JointProof, Verdict } from '@haunch/model';
import type { AsCutBoard } from '../as-cut-board.js';
import { judgeFit, type OnBoard } from './judge-fit.js';

/** From the worst to the best. */
const GRAVITY: readonly Verdict[] = ['blocked', 'tight', 'slack', 'unknown', 'as wanted'];

const matesOf = (joint: Joint, part: string): Set<string> =>
  new Set(
    joint.fits.flatMap((f: Fit) => [
      ...(f.slotPart === part ? f.walls : []),
      ...(f.enteringPart === part ? f.enteringEdges : []),
    ]),
  );

function jointOf(joint: Joint, id: string, fits: readonly FitProof[]): JointProof {
  const verdict = GRAVITY.find((v) => fits.some((f) => f.verdict === v)) ?? 'unknown';
  const grip = fits.filter((f) => f.kind === 'thickness');
  const speaking = (grip.length > 0 ? grip : fits).filter((f) => f.least !== null);
  // Of several fits the one furthest from what it wants speaks, tight or slack; of equals the tighter.
  const ends = speaking.flatMap((f) => [
    { f, clearance: f.least! },
    { f, clearance: f.most! },
  ]);
  const off = (e: (typeof ends)[number]) => Math.round(Math.abs(e.clearance - e.f.wanted) * 1e6);
  const furthest = ends.reduce<(typeof ends)[number] | null>(
    (best, e) =>
      best === null ||
      off(e) > off(best) ||
      (off(e) === off(best) && e.clearance - e.f.wanted < best.clearance - best.f.wanted)
        ? e
        : best,
    null,
  );
  return {
    joint: id,
    type: joint.type,
    slotPart: joint.slotPart,
    enteringPart: joint.enteringPart,
    verdict,
    wanted: furthest?.f.wanted ?? null,
    clearance: furthest?.clearance ?? null,
    fits,
  };
}

/**
 * The board on which all of a joint is cut, of one piece: the walls of every fit and the edges that meet them. Undefined where it lies on
 * several, or a slotted part is on none.
 */
function homeOf(joint: Joint, placeOf: (part: string) => OnBoard | undefined): AsCutBoard | undefined {
  const home = joint.fits[0] && placeOf(joint.fits[0].slotPart)?.board;
  return home !== undefined &&
    joint.fits.every(
      (f) =>
        placeOf(f.slotPart)?.board === home &&
        (f.enteringEdges.length === 0 || (placeOf(f.enteringPart)?.board ?? home) === home),
    )
    ? home
    : undefined;
}

/**
 * Judges joints on parts as cut, across all boards and piece by piece: only items of the same piece meet. The
 * joints of piece 2 are named `id/2`, and so on. A fit whose slotted part is on none of the boards is `unknown`; an
 * entering part that is on none is taken as drawn, and says so. `thicknesses` are mm by part id; a fit's own
 * `local` thickness goes before. `own` gives what the proof of a board has said of the same joints: one that lies wholly on it
 * cannot come out otherwise, and is not measured again.
 */
export function judgeJoints(
  joints: readonly Joint[],
  boards: readonly AsCutBoard[],
  thicknesses: Readonly<Record<string, number>>,
  own: (board: AsCutBoard) => readonly JointProof[] = () => [],
): JointProof[] {
  const places = new Map<string, OnBoard>();
  const pieces = new Set<number>();
  for (const board of boards)
    for (const item of board.items) {
      pieces.add(item.piece);
      places.set(`${item.piece} ${item.part.id}`, { board, item });
    }
  const realOf = (part: string): number | undefined =>
    Object.hasOwn(thicknesses, part) ? thicknesses[part] : undefined;
  return [...pieces]
    .sort((a, b) => a - b)
    .flatMap((piece) =>
      joints.map((joint) => {
        const id = piece === 1 ? joint.id : `${joint.id}/${piece}`;
        const home = homeOf(joint, (part) => places.get(`${piece} ${part}`));
        const known = home && own(home).find((j) => j.joint === id);
        if (known) return known;
        const fits = joint.fits.map((fit) =>
          judgeFit(fit, {
            slot: places.get(`${piece} ${fit.slotPart}`),
            entering: places.get(`${piece} ${fit.enteringPart}`),
            thickness: fit.local ?? realOf(fit.enteringPart),
            slotThickness: realOf(fit.slotPart),
            mates: matesOf(joint, fit.slotPart),
          }),
        );
        return jointOf(joint, id, fits);
      }),
    );
}

/** The joints of which at least one fit has its walls on a board, with those fits alone. */
export function jointsOn(joints: readonly Joint[], board: AsCutBoard): Joint[] {
  const here = new Set(board.items.map((i) => i.part.id));
  return joints.flatMap((j) => {
    const fits = j.fits.filter((f) => here.has(f.slotPart));
    return fits.length > 0 ? [{ ...j, fits }] : [];
  });
}
