import type { Clip } from '@haunch/geometry';
import { type BoardDrawings, type Drawings, drawingsOf, drawReplay } from './drawings.js';
import { embeddedReplays } from './embedded-replays.js';
import type { Made } from './make.js';
import type { ReplayData } from './replay/replay-html.js';
import { replayPath } from './replay/replay-path.js';
import { layoutPath, orderPath, partPath, programPath, reportOf } from './report.js';
import { reportHtml } from './report-html.js';
import type { Report } from './report-schema.js';

/** The first line of a program that breaks a rule and is written all the same. */
export const UNPROVED_LINE =
  '(UNPROVED: this program broke rules or joints are not as wanted - see report.json)';

/** The file of what a job leaves of its boards: as the next job has them under `boards`. */
export const OFF_CUTS_PATH = 'off-cuts.json';

/** Everything that `haunch make` writes: paths below the output folder and their text. */
export interface Outputs {
  readonly report: Report;
  readonly files: ReadonlyMap<string, string>;
  /** What the replays draw, by the name of the program. */
  readonly replays: ReadonlyMap<string, ReplayData>;
}

/**
 * The files of a made job: programs, layouts, parts, report. Programs of a job that did not pass carry a first
 * line that says so; whether to write them at all is for the caller to decide. With the polygon kernel at hand the
 * report also shows the piece put together, where the job makes just one, and every kind of piece to be turned.
 * `drawn` is what `drawingsOf` has drawn of its draft already.
 */
export function outputsOf(made: Made, clip?: Clip, drawn: Drawings = drawingsOf(made, clip)): Outputs {
  const files = new Map<string, string>();
  const report = reportOf(made);
  const replays = new Map<string, ReplayData>();
  const pages = new Map<string, string>();
  for (const b of made.boards) {
    const { layout, order, underOrder, replays: proved } = drawn.boards.get(b.board.id)!;
    const textOf = (text: string): string => (made.pass ? text : `${UNPROVED_LINE}\n${text}`);
    for (const { name, program } of b.programs)
      files.set(programPath(name, program.extension), textOf(program.text));
    files.set(layoutPath(b.board.id, 'dxf'), layout.dxf);
    files.set(layoutPath(b.board.id, 'svg'), layout.svg);
    files.set(orderPath(b.board.id), order);
    if (b.under && underOrder !== undefined) files.set(orderPath(b.under.board.id), underOrder);
    for (const own of b.programs) {
      const { name, program } = own;
      const replay = made.pass ? proved.get(name)! : drawReplay(made, b, own, textOf(program.text));
      replays.set(name, replay.data);
      files.set(replayPath(name), replay.page);
      pages.set(programPath(name, program.extension), replay.page);
    }
  }
  files.set(OFF_CUTS_PATH, drawn.offCuts);
  for (const [id, text] of drawn.parts) files.set(partPath(id), text);
  files.set('report.json', `${JSON.stringify(report, null, 1)}\n`);
  const ofBoards = <T>(get: (d: BoardDrawings) => T): Record<string, T> =>
    Object.fromEntries([...drawn.boards].map(([id, d]) => [id, get(d)]));
  files.set(
    'report.html',
    reportHtml(report, {
      boards: ofBoards((d) => d.layout.svg),
      orders: ofBoards((d) => d.order),
      maps: ofBoards((d) => d.map),
      ...(drawn.piece === undefined ? {} : { piece: drawn.piece }),
      turntables: drawn.turntables,
      replays: embeddedReplays(pages),
      parts: drawn.picture,
    }),
  );
  return { report, files, replays };
}
