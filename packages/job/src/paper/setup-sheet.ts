import type { Cutter } from '@haunch/model';
import { duration } from '../duration.js';
import { drawBoard } from './board-drawing.js';
import type { PaperData, PaperSide, PaperStep } from './paper-data.js';
import { PdfDocument, type PdfOptions } from './pdf/pdf-document.js';
import { type Row, Sheet, TYPE } from './sheet/sheet.js';
import { figure, inUnit, length, type PaperUnit, place, size } from './units.js';

/** A strip of this thickness between cutter and edge is common when an edge is sought, mm; common practice, no source. */
const FEELER = 0.1;
/** A cutter stands out so much further than it goes into the wood at the least, mm; common practice, no source. */
const SPARE = 3;

/** What is checked before the sheet is loaded, and while it is. */
function loading(side: PaperSide, unit: PaperUnit): string[] {
  const [least, most] = side.goAt;
  const parts = side.items.length;
  const down = side.items.filter((i) => i.showFace !== null && i.showFace !== i.cutFace).length;
  const up = side.items.filter((i) => i.showFace !== null && i.showFace === i.cutFace).length;
  const faces =
    side.side === 'first'
      ? 'This is the first of two sides: the sheet lies with the faces down that are cut last.'
      : side.side === 'second'
        ? `This is the second of two sides: turn the sheet over about its middle line along ${(side.turnAxis ?? 'y').toUpperCase()}, so that ${side.turnAxis === 'x' ? 'front and back' : 'left and right'} change places, ${side.pins.length > 0 ? 'on to its pins' : 'against its stops'}.`
        : down === 0 && up === 0
          ? 'Either face of the sheet may lie up.'
          : up === 0
            ? `The better face of the sheet lies down: of ${down === parts ? `all ${parts} parts` : `${down} of ${parts} parts`} the face that is seen is below.`
            : down === 0
              ? `The better face of the sheet lies up: of ${up === parts ? `all ${parts} parts` : `${up} of ${parts} parts`} the face that is seen is on top.`
              : `Both faces must be good: the seen face lies down of ${down} parts and up of ${up}.`;
  const grain =
    side.grain === null
      ? 'The sheet has no grain that matters.'
      : `The grain of its faces runs along ${side.grain.toUpperCase()}.`;
  return [
    `Board ${side.board}, ${side.material === side.stock ? side.material : `${side.material} (${side.stock})`}, ${size([side.width, side.height], unit, 0)}, measured ${length(side.thickness, unit, 2)}. ${grain}`,
    ...(side.edge
      ? [
          'It is no rectangle: its edge is as drawn, seen from above. Lay it that way round; its size is that of the box round it.',
        ]
      : []),
    ...defectWords(side),
    faces,
    `Measure the thickness once near its middle, at M in the drawing. From ${figure(least, unit, 2)} to ${length(most, unit, 2)}: go. Thinner or thicker: stop. It is another sheet, or it has moved; measure it again (haunch gauge) and make the programs anew.`,
    ...(side.ladder.length > 0
      ? [
          'The ladder is cut from this sheet already, where the dotted lines are. If it is not, this is another sheet: stop.',
        ]
      : []),
    'No chips under the sheet. It lies flat, and does not rock.',
  ];
}

/** Which flaws the layout went round. */
function defectWords({ defects = [] }: PaperSide): string[] {
  if (defects.length === 0) return [];
  const on = (face: 'up' | 'down'): number => defects.filter((d) => d.face === face).length;
  const said = [
    ...(on('up') > 0 ? [`${on('up')} above`] : []),
    ...(on('down') > 0 ? [`${on('down')} below`] : []),
  ].join(' and ');
  return [
    `Its flaws lie in the crossed rectangles of dots, ${said}: parts that show that face were laid clear of them. If they are elsewhere, the board lies another way round: stop.`,
  ];
}

/** How the origin is found. */
function zero(data: PaperData, side: PaperSide, unit: PaperUnit): string[] {
  const { machine } = data;
  const { workOffset = 1, secondOffset } = machine;
  const used = cuttersOf(data, side);
  const first = used.find((c) => c.kind === 'router') ?? used[0];
  const bed = machine.zZero === 'bed';
  const on = (which: boolean): string => (which ? 'the bed beside the sheet' : 'the top of the sheet');
  const edge = first ? -(first.diameter / 2 + FEELER) : -FEELER;
  return [
    `X0 Y0 is the lower left corner of ${side.edge ? 'the box round the board' : 'the sheet'}, the cross in the drawing, in G${53 + workOffset}.`,
    ...(first
      ? [
          `With ${first.id} standing still, bring it to the left edge until a strip of ${length(FEELER, unit, 2)} just drags: X there is ${figure(edge, unit, 2)}. In front likewise: Y is ${figure(edge, unit, 2)}.`,
        ]
      : []),
    `Z0 is ${on(bed)}${data.toolLength === 'touched off' || machine.changer === false ? '; set it again with every cutter' : '; the machine knows the lengths of its cutters'}. The same strip drags at Z ${figure(FEELER, unit, 2)}.`,
    ...(secondOffset === undefined
      ? []
      : [`G${53 + secondOffset} has the same X0 Y0; its Z0 is ${on(!bed)}.`]),
    `Rapid moves travel ${length(machine.clearance, unit, 0)} above the sheet: nothing stands higher than that in their way.`,
  ];
}

/** What holds the sheet, its parts and what comes loose. */
function holdingWords({ holding }: PaperData, side: PaperSide, unit: PaperUnit): string[] {
  const { screws, keepOuts, tabs, pins, stops, trims, vacuumAreas } = side;
  const count = (n: number, one: string): string => `${n} ${one}${n === 1 ? '' : 's'}`;
  const [tab] = tabs;
  return [
    screws.length === 0
      ? 'No screws are declared. Whatever holds the sheet must lie in the margins, clear of all cuts: the programs know nothing of it.'
      : `${count(screws.length, 'screw')} where the crossed circles are${screws.length > 6 ? '' : `: ${screws.map((s) => place(s.at, unit)).join('; ')}`}. No others.`,
    ...(keepOuts.length === 0
      ? []
      : [`${count(keepOuts.length, 'hatched zone')}: no cutter enters; clamps go there.`]),
    ...(pins.length === 0
      ? []
      : side.side === 'first'
        ? ['No pins in the bed yet: this side bores their holes, where the black dots are.']
        : [
            `${count(pins.length, 'pin')} of ${length(side.pinDiameter ?? 0, unit)} at ${pins.map((p) => place(p, unit)).join('; ')}.`,
          ]),
    ...(stops.length === 0
      ? []
      : [
          `${count(stops.length, 'stop')} of ${length(side.pinDiameter ?? 0, unit)}, the open circles: the sheet touches them at ${stops.map((p) => place(p, unit)).join('; ')}.`,
        ]),
    ...(trims.length === 0
      ? []
      : [
          `${count(trims.length, 'trimming cut')} last of all, the dash-dotted ${trims.length === 1 ? 'line' : 'lines'}: ${trims.map((t) => `${t.along === 'y' ? 'X' : 'Y'} ${length(t.at, unit)}`).join('; ')}. What lies where the arrows point is loose then.`,
        ]),
    ...(holding.vacuum === undefined
      ? []
      : [
          `Vacuum: ${holding.vacuum.pressure} kPa at the least before the start${vacuumAreas.length === 0 ? ', over the whole bed' : ', where the dash-dotted lines are'}.`,
        ]),
    ...(holding.skin !== undefined
      ? [`A skin of ${length(holding.skin.thickness, unit, 2)} holds every part; it is cut through last.`]
      : tab === undefined
        ? ['No part hangs on tabs here.']
        : [
            `Parts hang on ${count(tabs.length, 'tab')} (small black blocks), ${size([tab.width, tab.height], unit)} each, width by height.`,
          ]),
    'Lift nothing until the spindle stands still.',
  ];
}

/** The cutters of a side in the order of use. */
const cuttersOf = ({ cutters }: PaperData, { steps }: PaperSide): Cutter[] =>
  [...new Set(steps.map((s) => s.cutter))].flatMap((id) => cutters.filter((c) => c.id === id));

/** A cutter's checks, a row for each. */
function cutterRows(data: PaperData, side: PaperSide, unit: PaperUnit): string[][] {
  const { machine, cutterLimit } = data;
  return cuttersOf(data, side).map((c) => {
    const own = side.steps.filter((s) => s.cutter === c.id);
    const deepest = Math.max(...own.map((s) => s.depth));
    const first = Math.min(...own.map((s) => s.firstDepth));
    const feed = Math.min(machine.maxFeed, c.chipLoad * c.flutes * c.rpm);
    const limit =
      c.kind === 'router' && cutterLimit !== null && cutterLimit > 0
        ? `; stop if more than ${length(cutterLimit, unit, 2)} off`
        : '';
    const upCut =
      c.upCutLength === null
        ? 'none'
        : `${length(c.upCutLength, unit)}; first pass ${length(first, unit)}${first > c.upCutLength ? ': good' : ': shallower, the top may fray'}`;
    const out =
      c.stickOut === undefined
        ? `at least ${length(deepest + machine.spoilboard + SPARE, unit, 0)}`
        : length(c.stickOut, unit, 0);
    return [
      `T${c.number}`,
      c.id,
      `cuts ${length(c.diameter, unit, 2)}${limit}`,
      upCut,
      `${length(c.fluteLength, unit, 0)}; cuts ${length(deepest, unit)} deep`,
      out,
      `${Math.round(c.rpm)} rev/min, ${unit === 'mm' ? `${Math.round(feed)} mm/min` : `${Math.round(feed / 25.4)} in/min`}`,
      '',
    ];
  });
}

/** Steps as rows: changes of cutter and waits stand across. */
function stepRows(side: PaperSide, unit: PaperUnit): Row[] {
  const rows: Row[] = [];
  let before: PaperStep | undefined;
  for (const s of side.steps) {
    if (before !== undefined && s.program !== before.program)
      rows.push({ across: `program ${s.program}: ${side.programs[s.program - 1]?.file ?? ''}` });
    if (before === undefined || s.cutter !== before.cutter) rows.push({ across: `cutter ${s.cutter}` });
    rows.push([
      s.number,
      s.feature,
      s.kind,
      figure(s.depth, unit),
      s.passes === 1 ? '1' : String(s.passes),
      duration(s.seconds),
      String(s.line),
    ]);
    for (const w of s.waits) rows.push({ across: `WAITS: ${inUnit(w, unit)}` });
    before = s;
  }
  return rows;
}

function oneSide(doc: PdfDocument, data: PaperData, side: PaperSide): void {
  const { report, paper } = data;
  const { unit } = paper;
  const landscape = side.width >= side.height;
  const turn = side.side === 'only' ? '' : side.side === 'first' ? ', first side' : ', second side';
  const sheet = new Sheet(doc, {
    page: paper.page,
    landscape,
    title: `${side.board}${turn}`,
    kind: 'Setup sheet: at the machine',
  });
  sheet.paragraph(
    `${report.title}. ${report.pass ? 'Programs proved.' : 'NOT PROVED: do not cut. See report.html.'} ${side.items.length} part${side.items.length === 1 ? '' : 's'}, ${side.steps.length} steps, about ${duration(side.seconds)}. ${side.programs.map((p) => p.file).join(', then ')}`,
    { bold: true },
  );
  const columns: readonly (readonly [string, readonly string[]])[] = [
    ['1  Load the sheet', loading(side, unit)],
    ['2  Find the origin', zero(data, side, unit)],
    ['3  Hold it', holdingWords(data, side, unit)],
  ];
  const gap = 6;
  const count = landscape ? 3 : 2;
  const wide = (sheet.width - gap * (count - 1)) / count;
  const type = TYPE.body - 0.5;
  const heights = columns.map(([, items]) => sheet.heightOf(items, wide, type));
  const [a, b, c] = heights as [number, number, number];
  // Words stand below the drawing: in three columns under a wide board, in two under an upright one.
  const words = landscape ? Math.max(a, b, c) : Math.max(a, b + c);
  const room = { x: sheet.left, y: sheet.y, width: sheet.width, height: sheet.bottom - sheet.y - words - 2 };
  const drawn = drawBoard(sheet.pen, side, room, { unit, atMachine: true });
  const y = sheet.y + drawn.height + 1;
  let end = y;
  columns.forEach(([head, items], i) => {
    const column = landscape ? i : Math.min(i, 1);
    const from = !landscape && i === 2 ? end : y;
    end = sheet.column(sheet.left + column * (wide + gap), wide, from, () => {
      sheet.heading(head);
      sheet.list(items, 'box', type);
    });
  });
  sheet.newPage();
  sheet.heading('4  Cutters: check each before it goes in');
  sheet.table(
    [
      { head: 'no.', share: 5, bold: true },
      { head: 'cutter', share: 12, bold: true },
      { head: 'diameter, measured', share: 24 },
      { head: 'up-cut length', share: 20 },
      { head: 'edges', share: 18 },
      { head: 'stick-out', share: 14 },
      { head: 'speed, feed', share: 20 },
      { head: 'seen', share: 6 },
    ],
    cutterRows(data, side, unit),
    { size: TYPE.body - 0.5 },
  );
  sheet.paragraph(
    'No chipped or blunt edge, no resin on the shank, collet clean. A cutter that was ground or swapped since it was measured is another cutter.',
  );
  sheet.heading(`5  Run ${side.programs.length === 1 ? 'the program' : 'the programs, in this order'}`);
  for (const p of side.programs) {
    sheet.paragraph(`${p.file}, about ${duration(p.seconds)}`, { bold: true });
    sheet.list(
      p.setup.map((w) => inUnit(w, unit)),
      'box',
      TYPE.body - 0.5,
    );
  }
  const waits = side.steps.flatMap((s) => s.waits.map((w) => `after step ${s.number}: ${inUnit(w, unit)}`));
  if (waits.length > 0) {
    sheet.paragraph('It waits for you:', { bold: true });
    sheet.list(waits, 'box', TYPE.body - 0.5);
  }
  sheet.paragraph(
    'First in the air, with a hand on the stop. If a cutter breaks, note the step: every step below is a re-entry point, and haunch resume writes the rest from there, proved.',
  );
  sheet.heading('Before you cut');
  sheet.list(report.cautions, 'dash', TYPE.body - 0.5);
  sheet.heading('Steps, each a re-entry point');
  sheet.paragraph(
    'Running times above are the proof’s, read from the program, without changes of cutter and waits; times of steps are the plan’s, with a change of cutter where there is one.',
    { size: TYPE.small },
  );
  sheet.table(
    [
      { head: 'step', share: 8, bold: true },
      { head: 'feature', share: 22 },
      { head: 'what', share: 21 },
      { head: `deep ${unit === 'mm' ? 'mm' : 'in'}`, share: 12, align: 'right' },
      { head: 'passes', share: 10, align: 'right' },
      { head: 'time', share: 17, align: 'right' },
      { head: 'line', share: 9, align: 'right' },
    ],
    stepRows(side, unit),
    { size: TYPE.small, blocks: landscape ? 2 : 1 },
  );
  sheet.finish(`${report.title} · ${side.name} · setup sheet`);
}

/** Setup sheets of a made job, one for every side of every board, as a PDF. */
export async function setupSheetPdf(
  data: PaperData,
  options: Omit<PdfOptions, 'title'> = {},
): Promise<Uint8Array> {
  const doc = new PdfDocument({ ...options, title: `${data.report.title}: setup sheets` });
  for (const side of data.sides) oneSide(doc, data, side);
  if (data.sides.length === 0) nothing(doc, data);
  return doc.bytes();
}

/** A page that says that there is nothing to set up. */
function nothing(doc: PdfDocument, { paper, report }: PaperData): void {
  const sheet = new Sheet(doc, { page: paper.page, title: report.title, kind: 'Setup sheet' });
  sheet.paragraph('This job cuts nothing: it has no boards with parts on them.');
  sheet.finish(`${report.title} · setup sheet`);
}
