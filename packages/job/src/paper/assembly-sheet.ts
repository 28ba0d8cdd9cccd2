import type { Clip } from '@haunch/geometry';
import { type Solid, solidsOfMaster } from '../assembly-picture/plate-solid.js';
import { assemblySteps, type EngagingPlace, type PaperAssemblyStep, peopleFor } from './assembly-steps.js';
import { drawStep, drawTogether, MOST_SHOWN } from './exploded-view.js';
import type { PaperData, PaperPiece } from './paper-data.js';
import { PdfDocument, type PdfOptions } from './pdf/pdf-document.js';
import { Sheet, TYPE } from './sheet/sheet.js';
import { size } from './units.js';

/** Curves of solids are so many times coarser than in pictures on a screen: a piece is drawn to a tenth of its size. */
const COARSE = 4;
/** A joint that is tight more often than this wants the sanding block at hand, 0…1. */
const LIKELY_TIGHT = 0.25;
/** The first step follows the list of parts on its page where this share of it is left: half for the step, and what says how to read its picture. */
const ROOM_FOR_STEP = 0.58;

const list = (names: readonly string[]): string =>
  names.length < 2 ? (names[0] ?? '') : `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`;

/** So many names are listed; of more the number is said, as what was put together so far is one thing by then. */
const LISTED = 8;
const some = (names: readonly string[], what: string): string =>
  names.length <= LISTED ? list(names) : `${names.length} ${what}`;

const PEOPLE = ['', 'one person', 'two people', 'three people', 'four people'];

/** How many must be there, and why. */
function peopleWords(step: PaperAssemblyStep): string {
  const people = PEOPLE[peopleFor(step)]!;
  if (people === PEOPLE[1]) return 'One person can do it.';
  return peopleFor({ hands: step.hands, weight: 0 }) === peopleFor(step)
    ? `${step.hands} separate things are held at once: ${people}.`
    : `What moves weighs about ${Math.round(step.weight)} kg: ${people}.`;
}

const WAYS: readonly (readonly [readonly [number, number, number], string])[] = [
  [[0, 0, -1], 'straight down'],
  [[0, 0, 1], 'straight up'],
  [[1, 0, 0], 'to the right'],
  [[-1, 0, 0], 'to the left'],
  [[0, 1, 0], 'to the rear'],
  [[0, -1, 0], 'to the front'],
];

/** A move in words, as the picture shows the piece: from its front. */
const way = ({ direction: d }: PaperAssemblyStep): string =>
  WAYS.find(([w]) => w[0] * d[0] + w[1] * d[1] + w[2] * d[2] > 0.999)?.[1] ?? 'along the arrows';

/** How a move feels by the least clearance of its joints: the families' own limits. */
function feel(data: PaperData, step: PaperAssemblyStep): string {
  const wanted = data.report.joints.flatMap((j) =>
    step.joints.includes(j.joint) && j.wanted !== null ? [j.wanted] : [],
  );
  if (wanted.length === 0) return 'Push it home; tap only as hard as it needs.';
  const least = Math.min(...wanted);
  if (least < 0.05) return 'It goes home with a mallet and a block of scrap.';
  return least <= 0.15
    ? 'It goes home by hand with light taps; it must not need force.'
    : 'It slides home by hand.';
}

/** Places by what stands and is met there, as parts bear their names: `2 with S1 and 1 with PL`. */
function metAt(places: readonly EngagingPlace[]): string {
  const met = new Map<string, number>();
  for (const { partner } of places) met.set(partner, (met.get(partner) ?? 0) + 1);
  return met.size > LISTED
    ? `with ${met.size} parts`
    : list([...met].map(([part, n]) => `${n} with ${part}`));
}

/** A joint by its plates, as they bear their names: `D1 in RL`. */
function inWords({ report }: PaperData, joint: string): string {
  const found = report.joints.find((j) => j.joint === joint);
  return found ? `${found.enteringPart} in ${found.slotPart}` : joint;
}

/** What a step asks for, beside its picture. */
function stepWords(data: PaperData, step: PaperAssemblyStep): string[] {
  const { places } = step;
  const tight = data.report.forecast.joints.filter(
    (j) => step.joints.includes(j.joint) && j.tight > LIKELY_TIGHT,
  );
  const many = places.length;
  return [
    `${some(step.moving, 'parts')} ${step.moving.length === 1 ? 'moves' : 'move together'} ${way(step)}${step.partners.length === 0 ? '' : ` on to ${some(step.partners, 'others')}`}.`,
    ...(many === 0
      ? []
      : [
          many === 1
            ? `One place engages, with ${places[0]!.partner}.`
            : `${many} places engage in this one move: ${metAt(places)}. Start all of them before you push any home.`,
        ]),
    feel(data, step),
    ...(many === 0
      ? []
      : [
          many === 1
            ? 'Tap at the mark, through a block of scrap.'
            : 'Tap at the marks, through a block of scrap, a little at each in turn, so that nothing jams.',
        ]),
    ...(tight.length === 0
      ? []
      : [
          `Have the sanding block at hand: ${some(
            tight.map((t) => inWords(data, t.joint)),
            'joints',
          )} may be tight.`,
        ]),
    peopleWords(step),
  ];
}

/** The first page: the piece as it will stand, its parts, and what to know before. */
function firstPage(
  sheet: Sheet,
  data: PaperData,
  {
    piece,
    solids,
    clip,
  }: { readonly piece: PaperPiece; readonly solids: readonly Solid[]; readonly clip: Clip },
): void {
  const { report, paper } = data;
  const top = sheet.y;
  const height = Math.min(118, 0.5 * (sheet.bottom - top));
  drawTogether(sheet.pen, solids, clip, { x: sheet.left, y: top, width: sheet.width, height });
  sheet.y = top + height + 1;
  if (piece.count > 1) sheet.paragraph(`${piece.count} of these are made; their parts are alike.`);
  sheet.heading('You need');
  sheet.paragraph(
    'A mallet, a block of scrap wood, a sanding block, a clear floor with a blanket on it. No glue, no screws: what goes together comes apart again.',
  );
  sheet.heading('Before you begin');
  sheet.list(
    [
      'Lay out all parts and tick them off below. Parts carry their names on tickets, or engraved.',
      'Break sharp edges with sandpaper. Push no joint by force: look for a chip or a ticket in it, or sand the plate where it enters.',
      'Tall pieces tip. Fix them to the wall before they are loaded; rate no load without a test. Follow your local furniture safety rules, above all where children are about.',
    ],
    'dash',
  );
  sheet.heading('Parts');
  const parts = new Map(report.parts.map((p) => [p.id, p]));
  sheet.table(
    [
      { head: 'part', share: 14, bold: true },
      { head: 'name', share: 34 },
      { head: 'size', share: 34 },
      { head: 'ok', share: 8 },
    ],
    piece.master.parts.map((p) => {
      const r = parts.get(p.id);
      return [p.id, p.name, r ? size([...r.size, r.thickness], paper.unit) : '', ''];
    }),
    { blocks: 2, size: TYPE.small },
  );
}

function onePiece(doc: PdfDocument, data: PaperData, piece: PaperPiece, clip: Clip): void {
  const sheet = new Sheet(doc, { page: data.paper.page, title: piece.name, kind: 'Putting it together' });
  const solids = solidsOfMaster(piece.master, clip, COARSE);
  firstPage(sheet, data, { piece, solids, clip });
  const steps = assemblySteps(piece.master, solids);
  // A long list ends on a page of its own, on which there may be room for the first step.
  const goesOn = sheet.bottom - sheet.y > ROOM_FOR_STEP * (sheet.bottom - sheet.top);
  if (!goesOn) sheet.newPage();
  if (!steps.ok) {
    sheet.heading('No steps');
    for (const d of steps.diagnostics) sheet.paragraph(`${d.message}. ${d.hint}`);
  } else {
    const before = sheet.y;
    sheet.paragraph(
      'In every picture: grey moves, white stands already; dashed lines end where tenons go home; black dots show where to tap, rings the same on the far side. Seen from the right of the front and above.' +
        (steps.value.some((s) => s.moving.length + s.standing.length > MOST_SHOWN)
          ? ' Of many plates only those near the move are shown.'
          : ''),
      { size: TYPE.small },
    );
    const block = (sheet.bottom - sheet.top - (sheet.y - before) - 2) / 2;
    const wide = 0.62 * sheet.width;
    if (goesOn) sheet.y = sheet.bottom - block - 2;
    let second = goesOn;
    steps.value.forEach((step, i) => {
      const words = [...(piece.master.assembly.length > 0 ? [step.text] : []), ...stepWords(data, step)];
      // Words that half a page has no room for get a page of their own.
      const long = sheet.heightOf(words, sheet.width - wide, TYPE.body + 1) > block - 8;
      if ((i > 0 || goesOn) && (long || !second)) {
        sheet.newPage();
        second = false;
      }
      const top = sheet.y;
      if (second) sheet.pen.line({ x: sheet.left, y: top }, { x: sheet.right, y: top }, { width: 0.2 });
      drawStep(sheet.pen, step, solids, clip, { x: sheet.left, y: top + 1, width: wide, height: block - 4 });
      sheet.column(sheet.left + wide + 4, sheet.width - wide - 4, top + 3, () => {
        sheet.pen.text({ x: sheet.left, y: sheet.y + 9 }, String(step.number), { size: 30, bold: true });
        sheet.pen.text({ x: sheet.right, y: sheet.y + 9 }, `of ${steps.value.length}`, {
          size: TYPE.body,
          align: 'right',
        });
        sheet.space(13);
        const [first, ...more] = stepWords(data, step);
        sheet.paragraph(first!, { bold: true, size: TYPE.body + 1 });
        if (piece.master.assembly.length > 0) sheet.paragraph(step.text);
        for (const w of more) sheet.paragraph(w);
      });
      sheet.y = top + block;
      second = !second && !long;
    });
    const used = new Set(steps.value.flatMap((s) => [...s.moving, ...s.standing]));
    const loose = piece.master.parts.filter((p) => !used.has(p.id));
    if (loose.length > 0)
      sheet.paragraph(
        `Then, without joints: ${list(loose.map((p) => (p.name === p.id ? p.id : `${p.id} ${p.name}`)))}.`,
        { bold: true },
      );
  }
  sheet.finish(`${data.report.title} · putting it together`);
}

/**
 * Assembly sheets of a made job, one for every kind of piece, as a PDF: the piece, its parts, and a picture with words for every step. A job of
 * loose parts alone has a page that says so.
 */
export async function assemblySheetPdf(
  data: PaperData,
  clip: Clip,
  options: Omit<PdfOptions, 'title'> = {},
): Promise<Uint8Array> {
  const doc = new PdfDocument({ ...options, title: `${data.report.title}: putting it together` });
  for (const piece of data.pieces) onePiece(doc, data, piece, clip);
  if (data.pieces.length === 0) {
    const sheet = new Sheet(doc, {
      page: data.paper.page,
      title: data.report.title,
      kind: 'Putting it together',
    });
    sheet.paragraph('The parts of this job have no mates, so that nothing is known of how they go together.');
    sheet.finish(data.report.title);
  }
  return doc.bytes();
}
