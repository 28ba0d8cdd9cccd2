import { labelCode, QUIET } from './label-code.js';
import { labelCorner, labelSize } from './label-grid.js';
import type { PaperData } from './paper-data.js';
import { PdfDocument, type PdfOptions } from './pdf/pdf-document.js';
import { type Pen, POINT_MM } from './pdf/pen.js';
import { PAGE_SIZES } from './sheet/page-size.js';
import { shortened, wrapped } from './sheet/wrap-text.js';
import { type TicketText, ticketTexts } from './ticket-text.js';

/** Labels are never printed quite in place: so much of each is left free. mm */
const PAD = 3;
/** Printers leave so much of a page's edge white: nothing of a label at the edge stands there. mm; common practice, no source */
const UNPRINTED = 5;

/** What of a label may be printed on. */
function printable(room: Room, page: readonly [number, number]): Room {
  const x = Math.max(room.x, UNPRINTED - PAD);
  const y = Math.max(room.y, UNPRINTED - PAD);
  return {
    x,
    y,
    width: Math.min(room.x + room.width, page[0] - UNPRINTED + PAD) - x,
    height: Math.min(room.y + room.height, page[1] - UNPRINTED + PAD) - y,
  };
}

interface Room {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** Draws a code within a square, its quiet zone included. */
function drawCode(pen: Pen, text: string, x: number, y: number, side: number): void {
  const modules = labelCode(text);
  const step = side / (modules.length + 2 * QUIET);
  const dark: [number, number, number, number][] = [];
  modules.forEach((row, r) => {
    for (let c = 0; c < row.length; c++) {
      if (!row[c]) continue;
      let run = 1;
      while (row[c + run]) run++;
      dark.push([x + (c + QUIET) * step, y + (r + QUIET) * step, run * step, step]);
      c += run;
    }
  });
  pen.rects(dark, { fill: 0 });
}

/** One label: the part's name as large as there is room, its code, and words that a person needs at the bench. */
function drawTicket(pen: Pen, t: TicketText, room: Room): void {
  const inner = { w: room.width - 2 * PAD, h: room.height - 2 * PAD };
  const side = Math.min(inner.h, 0.42 * inner.w, 34);
  drawCode(pen, t.code, room.x + room.width - PAD - side, room.y + (room.height - side) / 2, side);
  const x = room.x + PAD + 0.5;
  const width = inner.w - side - 1;
  const tall = Math.min(26, (0.34 * inner.h) / POINT_MM);
  const one = pen.widthOf(t.item, { size: 1, bold: true });
  const size = Math.max(9, Math.min(tall, width / one));
  let y = room.y + PAD + 0.78 * size * POINT_MM;
  pen.text({ x, y }, shortened(pen, t.item, width, { size, bold: true }), { size, bold: true });
  const type = inner.h < 22 ? 6.5 : inner.h < 34 ? 7.5 : 9;
  const step = 1.2 * type * POINT_MM;
  const bottom = room.y + room.height - PAD;
  const line = (text: string, bold = false): void => {
    if (y + step > bottom || text === '') return;
    y += step;
    pen.text({ x, y }, shortened(pen, text, width, { size: type, bold }), { size: type, bold });
  };
  y += 0.25 * step;
  line(t.name, true);
  line(`board ${t.board}`);
  line(t.face);
  // What is joined may take what is left but for the job's own line.
  const joins =
    t.mates.length === 0 ? [] : wrapped(pen, `joins ${t.mates.join(', ')}`, width, { size: type });
  const free = Math.max(1, Math.floor((bottom - y) / step + 1e-6) - 1);
  joins.slice(0, free).forEach((l, i) => {
    line(i === free - 1 && joins.length > free ? `${l} …` : l);
  });
  line(t.job);
}

/** Marks at the corners of a label, so that plain paper can be cut along them. */
function corners(pen: Pen, { x, y, width, height }: Room): void {
  const k = 2;
  pen.lines(
    [
      [x, y, 1, 1],
      [x + width, y, -1, 1],
      [x, y + height, 1, -1],
      [x + width, y + height, -1, -1],
    ].flatMap(([cx, cy, sx, sy]) => [
      [
        { x: cx!, y: cy! },
        { x: cx! + sx! * k, y: cy! },
      ],
      [
        { x: cx!, y: cy! },
        { x: cx!, y: cy! + sy! * k },
      ],
    ]),
    { width: 0.1, stroke: 0.6 },
  );
}

/** Tickets of a made job on sheets of labels, one a part, as a PDF. Print at full size: the labels' geometry is the job's. */
export async function ticketsPdf(
  data: PaperData,
  options: Omit<PdfOptions, 'title'> = {},
): Promise<Uint8Array> {
  const { page, labels } = data.paper;
  const doc = new PdfDocument({ ...options, title: `${data.report.title}: tickets` });
  const [width, height] = labelSize(page, labels);
  const tickets = ticketTexts(data);
  const count = labels.columns * labels.rows;
  let pen: Pen | undefined;
  tickets.forEach((t, i) => {
    if (i % count === 0) pen = doc.addPage(...PAGE_SIZES[page]);
    const room = { ...labelCorner(page, labels, i % count), width, height };
    corners(pen!, room);
    pen!.within(room.x, room.y, width, height, () => drawTicket(pen!, t, printable(room, PAGE_SIZES[page])));
  });
  if (tickets.length === 0)
    doc.addPage(...PAGE_SIZES[page]).text({ x: 20, y: 30 }, 'This job cuts no parts: there are no tickets.', {
      size: 12,
    });
  return doc.bytes();
}
