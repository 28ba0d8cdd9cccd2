import type { Move, Place, Toolpath } from '@haunch/model';
import { changesFirst, modalStateAt } from './modal-state.js';

/** Ids of the workingsteps at which a cutter is changed for another, in order; the first cutter is not changed for any. */
export function stepsOfChanges({ moves }: Toolpath): string[] {
  let cutter: number | undefined;
  return moves.flatMap((m) => {
    if (m.kind !== 'cutter') return [];
    const changed = cutter !== undefined && m.number !== cutter;
    cutter = m.number;
    return changed ? [m.from] : [];
  });
}

const samePlace = (a: Place, b: Place): boolean => a.x === b.x && a.y === b.y && a.z === b.z;

/** The moves from `from` on, with before them what must be in force there. */
function begun(moves: readonly Move[], from: number, end: number): Move[] {
  const own = moves.slice(from, end);
  const state = modalStateAt(moves, from);
  const { at, cutter, rpm, spinUp, offset } = state;
  const step = own[0]!.from;
  const first = own.find((m) => 'to' in m);
  // Where a step begins over the place where the one before it ended, nothing travels there by itself.
  const to = first?.kind === 'rapid' ? first.to : at;
  const highest = Math.max(...moves.flatMap((m) => (m.kind === 'rapid' ? m.to.z : [])));
  if (to === undefined || at === undefined || at.z < highest)
    throw new RangeError(`splitToolpath: the cutter is not at the height of rapids before ${step}`);
  const notes = own.findIndex((m) => m.kind !== 'note');
  const rest = own.slice(notes);
  const resumed: Move[] = [
    ...(offset === undefined || rest[0]?.kind === 'offset' ? [] : [{ ...offset, from: step }]),
    { kind: 'rapid', to: { ...to, z: at.z }, from: step },
  ];
  const running: Move[] =
    changesFirst(rest) || cutter === undefined
      ? []
      : [
          { ...cutter, from: step },
          ...(rpm === 0
            ? []
            : ([
                { kind: 'spindle', rpm, from: step },
                { kind: 'dwell', seconds: spinUp, from: step },
              ] as const)),
        ];
  const there = { ...to, z: at.z };
  const firstMove = rest.findIndex((m) => 'to' in m);
  const kept = rest.filter((m, i) => {
    // Nothing turns yet that a change would have to stop, and nothing need travel to where the cutter is.
    if (i === 0 && m.kind === 'spindle' && m.rpm === 0) return false;
    return !(i === firstMove && m.kind === 'rapid' && samePlace(m.to, there));
  });
  return [...own.slice(0, notes), ...resumed, ...running, ...kept];
}

/** The moves with the spindle stopped at their end. */
function ended(moves: readonly Move[]): Move[] {
  const { rpm } = modalStateAt(moves, moves.length);
  return rpm === 0 ? [...moves] : [...moves, { kind: 'spindle', rpm: 0, from: moves.at(-1)!.from }];
}

/**
 * A toolpath in pieces, of which each begins at one of the workingsteps named (ids, in the order of work) and is a program of its
 * own: it raises the cutter to the height of rapids over its first place, calls its cutter, starts the spindle and waits as long
 * as the whole did, and ends with the spindle stopped. Cut one after the other the pieces cut what the whole cuts: no motion at
 * feed is lost, added or moved. A name that begins the toolpath splits nothing off.
 * @throws RangeError for a name that is no step's, and where a step does not begin at the height of rapids.
 */
export function splitToolpath(toolpath: Toolpath, steps: readonly string[]): Toolpath[] {
  const { moves } = toolpath;
  const starts = steps.map((id) => {
    const start = moves.findIndex((m) => m.from === id);
    if (start < 0) throw new RangeError(`splitToolpath: there is no workingstep '${id}'`);
    return start;
  });
  const cuts = [...new Set(starts)].filter((s) => s > 0).sort((a, b) => a - b);
  const ends = [...cuts, moves.length];
  return [0, ...cuts].map((from, i) => ({
    ...toolpath,
    moves: ended(from === 0 ? moves.slice(0, ends[i]) : begun(moves, from, ends[i]!)),
  }));
}

/** A toolpath without its changes of cutter, for machines on which that is done before the program starts. */
export const withoutChanges = (toolpath: Toolpath): Toolpath => ({
  ...toolpath,
  moves: toolpath.moves.filter((m) => m.kind !== 'cutter'),
});
