import type { Cutter } from '@haunch/model';
import { type ReplayData, type ReplayInput, replayData, replayPage } from './replay-html.js';

/** Programs that are run one after the other on one board, and what else a replay of them shows. mm */
export interface SeveralReplayInput extends Omit<ReplayInput, 'text'> {
  readonly programs: readonly {
    readonly text: string;
    readonly file: string;
    /** What is in the machine while it runs; all cutters when left out. */
    readonly cutters?: readonly Cutter[];
  }[];
}

/**
 * Replays one after the other: lines and times count through all of them, each text stands below its name, and each
 * begins where it begins, in no time.
 */
export function joinReplays(
  all: readonly { readonly file: string; readonly data: ReplayData }[],
): ReplayData {
  const [first, ...others] = all;
  if (first === undefined) throw new RangeError('joinReplays: no replay is given');
  if (others.length === 0) return first.data;
  const lines: string[] = [];
  const moves: ReplayData['moves'][number][] = [];
  let time = 0;
  for (const { file, data } of all) {
    lines.push(`-- ${file}`);
    const before = lines.length;
    if (moves.length > 0) moves.push([...data.start, before, time, 0, 0]);
    for (const [x, y, z, line, until, ...rest] of data.moves)
      moves.push([x!, y!, z!, line! + before, until! + time, ...rest]);
    lines.push(...data.lines);
    time = moves.at(-1)?.[4] ?? time;
  }
  return { ...first.data, lines, moves };
}

/** A page that replays several programs of one board as they are run one after the other; see `replayHtml`. */
export const replaySeveralHtml = ({ title, programs, cutters, ...shared }: SeveralReplayInput): string =>
  replayPage(
    title,
    joinReplays(
      programs.map((p) => ({
        file: p.file,
        data: replayData({ ...shared, text: p.text, cutters: p.cutters ?? cutters }),
      })),
    ),
  );
