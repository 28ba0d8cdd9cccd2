import type { Point } from '@haunch/geometry';
import { type Board, type Diagnostic, type Master, type Outcome, settle } from '@haunch/model';
import { turnedMates } from './diagnostics.js';
import type { Job } from './job.js';
import { mateLine } from './mate-line.js';

/** Whether a part must lie turned by an odd number of quarter turns. */
export type TurnLock = ReadonlyMap<string, boolean>;

/** Directions nearer to an axis than this count as along it. */
const NEAR = 1e-6;

/** Whether a direction runs along V: null where it runs along neither axis of the plate. */
const alongV = ({ x, y }: Point): boolean | null =>
  Math.abs(x) < NEAR ? true : Math.abs(y) < NEAR ? false : null;

/** How the grain wants a part to lie on boards of this grain; undefined where either has none. */
function byGrain(grain: 'u' | 'v' | 'none', board: Board | undefined): boolean | undefined {
  if (grain === 'none' || !board || board.grain === null) return undefined;
  return (grain === 'u') !== (board.grain === 'x');
}

/**
 * How parts must lie so that no mate is turned: the line in which its two plates meet then lies along the same axis of the machine
 * in both, and what the machine makes too long it makes so in both. Grain goes before; mates that it turns are refused by name.
 * Parts that nothing binds are left out. Plates that meet neither along U nor along V are not bound: quarter turns cannot do it.
 */
export function lockTurns(
  job: Pick<Job, 'file' | 'lineOf'>,
  master: Master,
  boardsFor: (part: string) => readonly Board[],
): Outcome<TurnLock> {
  const bonds = master.mates.flatMap((mate) => {
    const line = mateLine(master, mate);
    const [slot, entering] = line ? [alongV(line.inSlot), alongV(line.inEntering)] : [null, null];
    return slot === null || entering === null ? [] : [{ mate, differ: slot !== entering }];
  });
  const lock = new Map<string, boolean>();
  for (const p of master.parts) {
    const wanted = byGrain(p.grain, boardsFor(p.id)[0]);
    if (wanted !== undefined) lock.set(p.id, wanted);
  }
  // From what the grain settles outwards; where it settles nothing, the first part of those bound together lies as drawn.
  for (;;) {
    const next = bonds.find((b) => lock.has(b.mate.slotPart) !== lock.has(b.mate.enteringPart));
    if (next) {
      const { slotPart, enteringPart } = next.mate;
      const [known, other] = lock.has(slotPart) ? [slotPart, enteringPart] : [enteringPart, slotPart];
      lock.set(other, lock.get(known)! !== next.differ);
      continue;
    }
    const free = bonds.find((b) => !lock.has(b.mate.slotPart));
    if (!free) break;
    lock.set(free.mate.slotPart, false);
  }
  const turned = bonds.filter(
    ({ mate, differ }) => (lock.get(mate.slotPart)! !== lock.get(mate.enteringPart)!) !== differ,
  );
  const problems: Diagnostic[] =
    turned.length === 0
      ? []
      : [
          turnedMates(
            turned.map((b) => b.mate.id),
            job.file,
            job.lineOf(['machine', 'calibration', 'programs']),
          ),
        ];
  return settle(lock, problems);
}
