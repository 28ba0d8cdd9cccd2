import { formatDxf, formatSvg, pictureOfParts, sheetOfParts } from '@haunch/drawing';
import type { Clip } from '@haunch/geometry';
import { assemblySvg } from './assembly-picture/assembly-svg.js';
import { copiesOf } from './boards-of-job.js';
import { layoutPicture } from './layout-picture.js';
import type { Draft, DraftBoard } from './make.js';
import { mapPicture } from './map-picture.js';
import { leftForJob, offCutsLeft } from './off-cuts-left.js';
import { orderSvg } from './order-picture/order-svg.js';
import { piecesOf } from './paper/pieces-of.js';
import type { MadeProgram } from './programs/write-programs.js';
import { placesThatMatter } from './readings-to-take.js';
import { type ReplayData, replayData, replayPage } from './replay/replay-html.js';
import { turntableData } from './turntable/turntable-data.js';
import { turntableHtml } from './turntable/turntable-html.js';

/** A replay: what it draws, and its page. */
export interface DrawnReplay {
  readonly data: ReplayData;
  readonly page: string;
}

/** What is drawn of one board: texts of files. */
export interface BoardDrawings {
  readonly layout: { readonly dxf: string; readonly svg: string };
  /** The order of work, and that of the first side where the sheet is turned over. */
  readonly order: string;
  readonly underOrder?: string;
  /** The thickness map. */
  readonly map: string;
  /** By the name of the program. */
  readonly replays: ReadonlyMap<string, DrawnReplay>;
}

/** All that is drawn of a job whatever its proofs say. */
export interface Drawings {
  /** By board id. */
  readonly boards: ReadonlyMap<string, BoardDrawings>;
  /** DXF texts by part id. */
  readonly parts: ReadonlyMap<string, string>;
  /** All parts as one SVG. */
  readonly picture: string;
  /** What the job leaves of its boards, as the next job has it. */
  readonly offCuts: string;
  /** The piece put together, where the job makes just one. */
  readonly piece?: string;
  /** Every kind of piece to be turned. */
  readonly turntables: readonly string[];
}

/** The replay of one of a board's programs; `text` is its text as it is written. */
export function drawReplay(
  { job }: Pick<Draft, 'job'>,
  board: DraftBoard,
  own: MadeProgram,
  text: string,
): DrawnReplay {
  const side = board.under?.programs.includes(own) ? board.under : board;
  const data = replayData({
    text,
    ...(board.meaning === undefined ? {} : { meaning: board.meaning }),
    board: side.board,
    items: side.items,
    cutters: own.cutter === null ? job.cutters : [own.cutter],
    machine: job.machine,
  });
  return { data, page: replayPage(`${own.name}, replayed from its program`, data) };
}

function drawBoard(draft: Draft, b: DraftBoard): BoardDrawings {
  const { settings, machine } = draft.job;
  const parts = b.items.map((i) => i.part);
  return {
    layout: {
      dxf: formatDxf(sheetOfParts(parts, { title: `${settings.title}: ${b.board.id}`, placed: true })),
      svg: formatSvg(layoutPicture(b)),
    },
    order: orderSvg(b, machine),
    ...(b.under ? { underOrder: orderSvg(b.under, machine) } : {}),
    map: mapPicture(b.board, { where: placesThatMatter(b) }),
    replays: new Map(b.programs.map((p) => [p.name, drawReplay(draft, b, p, p.program.text)])),
  };
}

/**
 * Draws of a job, written but perhaps not yet proved, what no proof changes; replays are those of the programs without a first line that
 * calls them unproved. With the polygon kernel at hand also the piece put together, where the job makes just one, and every kind of
 * piece to be turned.
 */
export function drawingsOf(draft: Draft, clip?: Clip): Drawings {
  const { job, laid } = draft;
  const { settings } = job;
  const { parts, master } = laid.fitted;
  const left = draft.boards.flatMap((b) => {
    const of = settings.boards.find((x) => copiesOf(x).includes(b.board.id));
    return of ? offCutsLeft(job, laid, b).map((o) => leftForJob(of, o)) : [];
  });
  const alone = settings.pieces.length === 1 && settings.pieces[0]!.count === 1;
  return {
    boards: new Map(draft.boards.map((b) => [b.board.id, drawBoard(draft, b)])),
    parts: new Map(
      parts.map((part) => [part.id, formatDxf(sheetOfParts([part], { title: `${part.id} ${part.name}` }))]),
    ),
    picture: formatSvg(pictureOfParts(parts, { title: settings.title })),
    offCuts: `${JSON.stringify(left, null, 1)}\n`,
    ...(master && alone && clip ? { piece: assemblySvg(master, clip, { title: master.title }) } : {}),
    turntables:
      master && clip ? piecesOf(master).map((p) => turntableHtml(turntableData(p.master, clip))) : [],
  };
}
