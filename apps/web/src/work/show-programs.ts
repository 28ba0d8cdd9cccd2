import type { Made, Outputs, ReplayMove } from '@haunch/job';
import type { PaperSide } from '@haunch/job/paper';
import { MOVE, type ShownProgram } from './shown-wire.js';

/** Motions as one array of figures; lines count from the program's own first. */
function flatMoves(moves: readonly ReplayMove[], before: number): Float32Array {
  const out = new Float32Array(moves.length * MOVE);
  moves.forEach((m, i) => {
    out.set(m, i * MOVE);
    out[i * MOVE + 3] = m[3]! - before;
  });
  return out;
}

/** Where each line of a text begins. */
export function lineStarts(text: string): Uint32Array {
  const starts = [0];
  for (let i = text.indexOf('\n'); i >= 0 && i + 1 < text.length; i = text.indexOf('\n', i + 1))
    starts.push(i + 1);
  return Uint32Array.from(starts);
}

/** The programs of a made job in the order in which they are run, each with its steps and its motions. */
export function showPrograms(
  made: Made,
  sides: readonly PaperSide[],
  { replays }: Pick<Outputs, 'replays'>,
): ShownProgram[] {
  // The text of programs that are not proved has a line more in its file, which says so.
  const before = made.pass ? 0 : 1;
  return sides.flatMap((side) => {
    const board = made.boards.find((b) => b.board.id === side.board)!;
    return side.programs.flatMap((p, i): ShownProgram[] => {
      const program = board.programs.find((own) => p.file.split('/').at(-1)!.startsWith(`${own.name}.`));
      const replay = program && replays.get(program.name);
      if (!program || !replay) return [];
      const { text } = program.program;
      return [
        {
          name: program.name,
          file: p.file,
          board: side.board,
          side: side.side,
          setup: p.setup,
          seconds: p.seconds,
          steps: side.steps
            .filter((s) => s.program === i + 1)
            .map(({ number, kind, part, feature, cutter, depth, passes, seconds, line, waits }) => ({
              number,
              kind,
              part,
              feature,
              cutter,
              depth,
              passes,
              seconds,
              line,
              waits,
            })),
          text,
          lineStarts: lineStarts(text),
          start: replay.start,
          moves: flatMoves(replay.moves, before),
          outlines: replay.outlines,
          sheet: replay.board,
          top: replay.top,
          bottom: replay.bottom,
        },
      ];
    });
  });
}
