import { duration } from '../duration.js';
import { drawBoard } from './board-drawing.js';
import { type Lists, listsOf } from './lists.js';
import type { PaperData } from './paper-data.js';
import { PdfDocument, type PdfOptions } from './pdf/pdf-document.js';
import { keptOf, type QuoteLine } from './quote.js';
import { type Row, Sheet, TYPE } from './sheet/sheet.js';
import { lastSides } from './ticket-text.js';
import { figure, inUnit, length, size } from './units.js';

/** The parts list, and the cut list for whoever saws blanks. */
function partsPages(doc: PdfDocument, { paper, report }: PaperData, { parts, blanks }: Lists): void {
  const { unit } = paper;
  const sheet = new Sheet(doc, { page: paper.page, title: report.title, kind: 'Parts and cut list' });
  sheet.heading(`Parts list: ${parts.length} part${parts.length === 1 ? '' : 's'}`);
  sheet.table(
    [
      { head: 'part', share: 14, bold: true },
      { head: 'name', share: 30 },
      { head: `along × across × thick, ${unit === 'mm' ? 'mm' : 'in'}`, share: 34 },
      { head: 'board', share: 18 },
      { head: 'joins', share: 36 },
      { head: 'ok', share: 6 },
    ],
    parts.map((p) => [
      p.part,
      p.name,
      p.size.map((v, i) => figure(v, unit, i === 2 ? 2 : 1)).join(' × '),
      p.board,
      p.mates.join(', '),
      '',
    ]),
  );
  sheet.paragraph(
    'Along: the side that lies along the grain of its board. Sizes are those of the rectangle round the part as it is cut.',
    { size: TYPE.small },
  );
  sheet.heading('Cut list: blanks, without allowance for the saw');
  sheet.table(
    [
      { head: 'count', share: 9, bold: true },
      { head: `along × across × thick, ${unit === 'mm' ? 'mm' : 'in'}`, share: 38 },
      { head: 'stock', share: 22 },
      { head: 'for', share: 60 },
    ],
    blanks.map((b) => [
      String(b.count),
      b.size.map((v, i) => figure(v, unit, i === 2 ? 2 : 1)).join(' × '),
      b.stock,
      b.parts.join(', '),
    ]),
  );
  sheet.finish(`${report.title} · parts and cut list`);
}

/** A page a board: what is lifted off, what is waste, what is kept. */
function unloadPages(doc: PdfDocument, data: PaperData, lists: Lists): void {
  const { paper, report } = data;
  const { unit } = paper;
  const names = new Map(report.parts.map((p) => [p.id, p.name]));
  for (const side of lastSides(data)) {
    const landscape = side.width >= side.height;
    const sheet = new Sheet(doc, {
      page: paper.page,
      landscape,
      title: `${side.board}: unloading`,
      kind: 'Unload map',
    });
    const kept = keptOf(side, paper.rates);
    const blocks = landscape ? 3 : 2;
    const rows = Math.ceil(side.items.length / blocks);
    const table = Math.min(rows * 5.4 + 12, 0.42 * (sheet.bottom - sheet.y));
    const words = [
      'Spindle stopped, vacuum off. Cut tabs with the part held down; white is parts, grey is waste.',
      data.engraved
        ? 'Parts carry their names where they are engraved; the others get their tickets on the face that is not seen, before they leave the board.'
        : 'Put each part’s ticket on the face that is not seen before it leaves the board.',
      ...kept.map(
        (o) =>
          `Keep ${o.id}, in dashed lines, ${size([o.width, o.height], unit)}${o.outline ? ' round it, in one piece' : ''}: write that name and the thickness on it, ${length(side.thickness, unit, 2)}, and where its lower left corner was, X ${figure(o.x, unit)} Y ${figure(o.y, unit)}. The next job finds it in off-cuts.json.`,
      ),
      ...(kept.length === 0 ? ['No off-cut is large enough to keep.'] : []),
      ...(side.ladder.length > 0 ? ['Dotted: where the ladder was cut from this sheet.'] : []),
    ];
    const type = TYPE.body - 0.5;
    const height = sheet.bottom - sheet.y - table - sheet.heightOf(words, sheet.width, type);
    const drawn = drawBoard(
      sheet.pen,
      side,
      { x: sheet.left, y: sheet.y, width: sheet.width, height },
      { unit, atMachine: false, kept },
    );
    sheet.space(drawn.height);
    sheet.list(words, 'box', type);
    sheet.table(
      [
        { head: 'part', share: 18, bold: true },
        { head: 'name', share: 40 },
        { head: 'off', share: 8 },
      ],
      (lists.unload.find((u) => u.board === side.board)?.parts ?? []).map((p) => [p, names.get(p) ?? '', '']),
      { blocks, size: TYPE.small },
    );
    sheet.finish(`${report.title} · ${side.board} · unload map`);
  }
}

const UNITS: Readonly<Record<QuoteLine['unit'], string>> = { min: 'min', board: 'boards', m: 'm' };
const KINDS: Readonly<Record<QuoteLine['kind'], string>> = {
  machine: 'machine',
  bench: 'by hand',
  sheet: 'sheet',
  'off-cut': 'off-cut',
  cutter: 'cutter',
};

function quotePages(doc: PdfDocument, { paper, report }: PaperData, { quote }: Lists): void {
  const { unit } = paper;
  const sheet = new Sheet(doc, { page: paper.page, title: report.title, kind: 'Quote' });
  const money = (v: number | null): string => (v === null ? 'no rate' : v.toFixed(2));
  const priced = quote.total !== null;
  const total = (name: string, v: number | null): Row => [name, '', '', money(v)];
  const seconds = report.seconds;
  sheet.paragraph(
    `${report.parts.length} part${report.parts.length === 1 ? '' : 's'} from ${report.boards.length} board${report.boards.length === 1 ? '' : 's'}; the machine runs about ${duration(seconds)}; ${figure(report.forecast.jointsTight, 'mm', 1)} of ${report.forecast.joints.length} joints are expected to want sanding.`,
  );
  sheet.table(
    [
      { head: 'kind', share: 14, bold: true },
      { head: 'what', share: 58 },
      { head: 'amount', share: 22, align: 'right' },
      ...(priced ? [{ head: `price ${quote.currency}`, share: 20, align: 'right' as const }] : []),
    ],
    [
      ...quote.lines.map((l) => [
        KINDS[l.kind],
        inUnit(l.what, unit),
        `${l.amount} ${l.unit === 'board' && l.amount === 1 ? 'board' : UNITS[l.unit]}`,
        ...(priced ? [money(l.price)] : []),
      ]),
      ...(priced
        ? [
            { across: 'Together' },
            total('costs', quote.costs),
            total('mark-up', quote.markUp),
            total('tax', quote.tax),
            total('total', quote.total),
          ]
        : []),
    ],
  );
  for (const s of quote.said) sheet.paragraph(s);
  if (quote.unpriced.length > 0)
    sheet.paragraph(
      `Without a rate, so in no sum: ${quote.unpriced.map((u) => inUnit(u, unit)).join('; ')}.`,
      {
        bold: true,
      },
    );
  sheet.paragraph(
    'Times are reckoned from the program; what the machine really takes depends on how it accelerates. An off-cut is credited with a share of its sheet’s price. Sanding is what the forecast expects, not what is certain.',
    { size: TYPE.small },
  );
  sheet.finish(`${report.title} · quote`);
}

/** Parts list, cut list, unload maps and quote of a made job, each as a PDF by its name. */
export async function listsPdfs(
  data: PaperData,
  options: Omit<PdfOptions, 'title'> = {},
  lists: Lists = listsOf(data),
): Promise<ReadonlyMap<string, Uint8Array>> {
  const made = async (
    name: string,
    draw: (doc: PdfDocument) => void,
  ): Promise<readonly [string, Uint8Array]> => {
    const doc = new PdfDocument({ ...options, title: `${data.report.title}: ${name}` });
    draw(doc);
    return [`${name}.pdf`, await doc.bytes()];
  };
  return new Map(
    await Promise.all([
      made('parts', (doc) => partsPages(doc, data, lists)),
      ...(data.sides.length > 0 ? [made('unload', (doc) => unloadPages(doc, data, lists))] : []),
      made('quote', (doc) => quotePages(doc, data, lists)),
    ]),
  );
}
