import { formatDxf, formatSvg, pictureOfParts, sheetOfParts } from '@haunch/drawing';
import type { Clip } from '@haunch/geometry';
import { assemblySvg } from './assembly-picture/assembly-svg.js';
import { copiesOf } from './boards-of-job.js';
import { embeddedReplays } from './embedded-replays.js';
import { layoutPicture } from './layout-picture.js';
import type { Made } from './make.js';
import { mapPicture } from './map-picture.js';
import { leftForJob, offCutsLeft } from './off-cuts-left.js';
import { orderSvg } from './order-picture/order-svg.js';
import { piecesOf } from './paper/pieces-of.js';
import { placesThatMatter } from './readings-to-take.js';
import { type ReplayData, replayData, replayPage } from './replay/replay-html.js';
import { replayPath } from './replay/replay-path.js';
import { layoutPath, orderPath, partPath, programPath, reportOf } from './report.js';
import { reportHtml } from './report-html.js';
import type { Report } from './report-schema.js';
import { turntableData } from './turntable/turntable-data.js';
import { turntableHtml } from './turntable/turntable-html.js';

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
 */
export function outputsOf(made: Made, clip?: Clip): Outputs {
  const files = new Map<string, string>();
  const report = reportOf(made);
  const pictures: Record<string, string> = {};
  const orders: Record<string, string> = {};
  const replays = new Map<string, ReplayData>();
  for (const b of made.boards) {
    const parts = b.items.map((i) => i.part);
    const picture = formatSvg(layoutPicture(b));
    pictures[b.board.id] = picture;
    for (const { name, program } of b.programs) {
      const text = made.pass ? program.text : `${UNPROVED_LINE}\n${program.text}`;
      files.set(programPath(name, program.extension), text);
    }
    files.set(
      layoutPath(b.board.id, 'dxf'),
      formatDxf(sheetOfParts(parts, { title: `${made.job.settings.title}: ${b.board.id}`, placed: true })),
    );
    files.set(layoutPath(b.board.id, 'svg'), picture);
    orders[b.board.id] = orderSvg(b, made.job.machine);
    files.set(orderPath(b.board.id), orders[b.board.id]!);
    if (b.under) files.set(orderPath(b.under.board.id), orderSvg(b.under, made.job.machine));
    for (const own of b.programs) {
      const { name, program, cutter } = own;
      const side = b.under?.programs.includes(own) ? b.under : b;
      const replay = replayData({
        text: files.get(programPath(name, program.extension))!,
        ...(b.meaning === undefined ? {} : { meaning: b.meaning }),
        board: side.board,
        items: side.items,
        cutters: cutter === null ? made.job.cutters : [cutter],
        machine: made.job.machine,
      });
      replays.set(name, replay);
      files.set(replayPath(name), replayPage(`${name}, replayed from its program`, replay));
    }
  }
  const left = made.boards.flatMap((b) => {
    const of = made.job.settings.boards.find((x) => copiesOf(x).includes(b.board.id));
    return of ? offCutsLeft(made.job, made.laid, b).map((o) => leftForJob(of, o)) : [];
  });
  files.set(OFF_CUTS_PATH, `${JSON.stringify(left, null, 1)}\n`);
  const { parts } = made.laid.fitted;
  for (const part of parts)
    files.set(partPath(part.id), formatDxf(sheetOfParts([part], { title: `${part.id} ${part.name}` })));
  files.set('report.json', `${JSON.stringify(report, null, 1)}\n`);
  const pages = new Map(
    made.boards.flatMap((b) =>
      b.programs.map(
        ({ name, program }) => [programPath(name, program.extension), files.get(replayPath(name))!] as const,
      ),
    ),
  );
  const { master } = made.laid.fitted;
  const turntables =
    master && clip ? piecesOf(master).map((p) => turntableHtml(turntableData(p.master, clip))) : [];
  const alone = made.job.settings.pieces.length === 1 && made.job.settings.pieces[0]!.count === 1;
  const piece = master && alone && clip ? { piece: assemblySvg(master, clip, { title: master.title }) } : {};
  files.set(
    'report.html',
    reportHtml(report, {
      boards: pictures,
      orders,
      maps: Object.fromEntries(
        made.boards.map((b) => [b.board.id, mapPicture(b.board, { where: placesThatMatter(b) })]),
      ),
      ...piece,
      turntables,
      replays: embeddedReplays(pages),
      parts: formatSvg(pictureOfParts(parts, { title: made.job.settings.title })),
    }),
  );
  return { report, files, replays };
}
