import { describe, expect, it } from 'vitest';
import { readPdf, textOfPdf } from '../../test/paper/pdf-text.js';
import { manyParts, stored } from '../../test/paper/stored.js';
import { duration } from '../duration.js';
import type { PaperData, PaperSide } from './paper-data.js';
import { quoteOf } from './quote.js';
import { setupSheetPdf } from './setup-sheet.js';

const withSide = (change: Partial<PaperSide>, more: Partial<PaperData> = {}): PaperData => {
  const data = stored();
  return { ...data, ...more, sides: [{ ...data.sides[0]!, ...change }] };
};
const inInch = (data: PaperData): PaperData => ({ ...data, paper: { ...data.paper, unit: 'inch' } });

describe('a setup sheet', () => {
  it('says per board what is checked, held, run, and where work can be taken up again', async () => {
    const data = stored();
    const text = await textOfPdf(setupSheetPdf(data));
    for (const side of data.sides) {
      expect(text).toContain(side.board);
      for (const i of side.items) expect(text).toContain(i.item);
      for (const s of side.steps) expect(text).toContain(`${s.number} ${s.feature} ${s.kind}`);
      for (const p of side.programs) expect(text).toContain(p.file);
      expect(text).toMatch(/Parts hang on \d+ tabs/);
    }
    for (const caution of data.report.cautions) expect(text).toContain(caution);
    expect(text).toContain('X0 Y0 is the lower left corner of the sheet');
    expect(text).toMatch(/re-entry point/);
  });

  it('says the same running time as report and quote: the proof’s, shared out among its programs', async () => {
    const data = stored();
    const [board] = data.report.boards;
    const own = data.sides.filter((s) => s.board === board!.id);
    const sum = (times: readonly { readonly seconds: number }[]): number =>
      times.reduce((t, { seconds }) => t + seconds, 0);
    expect(sum(own)).toBeCloseTo(board!.seconds, 0);
    for (const side of own) expect(sum(side.programs)).toBeCloseTo(side.seconds, 0);
    expect(board!.seconds).not.toBe(board!.plannedSeconds);
    const running = quoteOf(data).lines.find((l) => l.kind === 'machine')!;
    expect(60 * running.amount).toBeCloseTo(board!.seconds, 0);
    expect(await textOfPdf(setupSheetPdf(data))).toContain(`about ${duration(board!.seconds)}.`);
  });

  it('gives the thickness at which to go and to stop as the report does', async () => {
    const text = await textOfPdf(setupSheetPdf(withSide({ goAt: [17.561, 17.839] })));
    expect(text).toContain('From 17.56 to 17.84 mm: go. Thinner or thicker: stop.');
    const inch = await textOfPdf(setupSheetPdf(inInch(withSide({ goAt: [17.78, 18.034] }))));
    expect(inch).toContain('From 0.7 to 0.71 in: go.');
  });

  it('draws a board that is no rectangle as it is, checks it where there is board, and tells of its flaws', async () => {
    const { width, height } = stored().sides[0]!;
    const checked = { x: 100, y: height - 100 };
    const corner = (x: number, y: number) => ({ x, y });
    const points = [
      corner(0, 0),
      corner(width, 0),
      corner(width, 200),
      corner(200, 200),
      corner(200, height),
      corner(0, height),
    ];
    const edge = { points, area: 200 * (width + height - 200), checkedAt: checked };
    const flaw = {
      points: [corner(5, 5), corner(40, 5), corner(40, 40), corner(5, 40)],
      face: 'down' as const,
    };
    const data = withSide({ edge, defects: [flaw] });
    const text = await textOfPdf(setupSheetPdf(data));
    expect(text).toContain('It is no rectangle');
    expect(text).toContain('lower left corner of the box round the board');
    expect(text).toContain('Its flaws lie in the crossed rectangles of dots, 1 below');
    expect(await textOfPdf(setupSheetPdf(stored()))).not.toMatch(/no rectangle|rectangles of dots/);
    // M stands on the board: another place than in the middle of its box.
    const whole = await setupSheetPdf(withSide({ defects: [flaw] }));
    expect(Buffer.from(await setupSheetPdf(data)).equals(Buffer.from(whole))).toBe(false);
  });

  it('writes nothing over anything else beside a board that is drawn small', async () => {
    for (const [width, height, grain] of [
      [1300, 2600, 'x'],
      [300, 2400, 'y'],
    ] as const) {
      const [page] = await readPdf(setupSheetPdf(withSide({ width, height, grain })));
      const row = page!.words.filter(({ text }) => /^(?:X \d.*mm|X0 Y0|grain|1 : [\d.]+)$/.test(text));
      expect(row).toHaveLength(4);
      for (const [i, a] of row.entries())
        for (const b of row.slice(i + 1))
          expect(
            Math.abs(a.y - b.y) > 6 || a.x + a.width < b.x || b.x + b.width < a.x,
            `${a.text} and ${b.text}`,
          ).toBe(true);
    }
  });

  it('tells where the cutter is when it touches the edges: its radius and the strip away', async () => {
    const data = stored();
    const cutters = data.cutters.map((c) => ({ ...c, diameter: 6 }));
    const text = await textOfPdf(setupSheetPdf({ ...data, cutters }));
    expect(text).toContain('a strip of 0.1 mm just drags: X there is -3.1.');
  });

  it('checks each cutter: diameter with its limit, up-cut length against the first pass, stick-out', async () => {
    const data = stored();
    const [cutter] = data.cutters;
    const sheet = (upCutLength: number | null, stickOut?: number): Promise<string> =>
      textOfPdf(
        setupSheetPdf({
          ...data,
          cutterLimit: 0.05,
          cutters: [{ ...cutter!, upCutLength, ...(stickOut === undefined ? {} : { stickOut }) }],
        }),
      );
    const first = Math.min(...data.sides[0]!.steps.map((s) => s.firstDepth));
    expect(await sheet(first - 1, 31)).toMatch(/stop if more than 0.05 mm off .*: good .* 31 mm/);
    expect(await sheet(first + 1)).toMatch(/shallower, the top may fray .*at least \d+ mm/);
    expect(await sheet(null)).toMatch(/none/);
  });

  it('shows screws, zones, pins, vacuum and the second side', async () => {
    const both = (['first', 'second'] as const).map((side) =>
      setupSheetPdf(
        withSide(
          {
            side,
            screws: [{ at: { x: 20, y: 30 }, head: 10 }],
            keepOuts: [
              [
                { x: 0, y: 0 },
                { x: 50, y: 0 },
                { x: 50, y: 20 },
                { x: 0, y: 20 },
              ],
            ],
            pins: [{ x: 10, y: 100 }],
            pinDiameter: 8,
            turnAxis: 'x',
            vacuumAreas: [[0, 0, 300, 200]],
          },
          { holding: { ...stored().holding, vacuum: { pressure: 60 } } },
        ),
      ),
    );
    const [first, text] = (await Promise.all(both.map(textOfPdf))) as [string, string];
    expect(text).toContain('1 screw where the crossed circles are: X 20, Y 30 mm. No others.');
    expect(text).toContain('1 hatched zone: no cutter enters');
    expect(text).toContain('1 pin of 8 mm at X 10, Y 100 mm');
    expect(text).toContain('Vacuum: 60 kPa at the least before the start, where the dash-dotted lines are.');
    expect(text).toMatch(
      /second side .*turn the sheet over about its middle line along X, so that front and back change places/,
    );
    expect(first).toMatch(/first side .*No pins in the bed yet: this side bores their holes/);
  });

  it('shows stops, trimming cuts, and the ladder that was cut already', async () => {
    const triangle = [
      { x: 900, y: 500 },
      { x: 1100, y: 500 },
      { x: 1000, y: 600 },
    ];
    const plain = await textOfPdf(setupSheetPdf(withSide({ ladder: [] })));
    for (const word of ['stop of', 'trimm', 'ladder']) expect(plain).not.toContain(word);
    const text = await textOfPdf(
      setupSheetPdf(
        withSide({
          stops: [
            { x: 0, y: 100 },
            { x: 0, y: 400 },
            { x: 300, y: 0 },
          ],
          pinDiameter: 20,
          trims: [{ along: 'y', at: 1150, waste: 'above' }],
          ladder: [triangle],
        }),
      ),
    );
    expect(text).toContain('3 stops of 20 mm, the open circles: the sheet touches them at X 0, Y 100');
    expect(text).toContain('1 trimming cut last of all, the dash-dotted line: X 1150 mm.');
    expect(text).toContain('trimmed off');
    expect(text).toContain('The ladder is cut from this sheet already, where the dotted lines are.');
  });

  it('says where the program waits, after which step', async () => {
    const { steps } = stored().sides[0]!;
    const waiting = steps.map((s, i) =>
      i === 1 ? { ...s, waits: ['try the plug in A (0.1 mm clearance)'] } : s,
    );
    const text = await textOfPdf(setupSheetPdf(withSide({ steps: waiting })));
    expect(text).toContain(`after step ${steps[1]!.number}: try the plug in A (0.1 mm clearance)`);
    expect(text).toContain('WAITS: try the plug');
  });

  it('is of the paper that is asked for, upright for an upright board', async () => {
    const data = withSide({ width: 600, height: 1200 });
    const letter = await readPdf(setupSheetPdf({ ...data, paper: { ...data.paper, page: 'Letter' } }));
    expect(letter[0]!.width).toBeCloseTo(612, 0);
    expect(letter[0]!.height).toBeCloseTo(792, 0);
    const wide = await readPdf(setupSheetPdf(withSide({ width: 1200, height: 600 })));
    expect(wide[0]!.width).toBeCloseTo(842, 0);
  });

  it('does not call an unproved program proved', async () => {
    const data = stored();
    const text = await textOfPdf(setupSheetPdf({ ...data, report: { ...data.report, pass: false } }));
    expect(text).toContain('NOT PROVED: do not cut.');
    expect(text).not.toContain('Programs proved');
  });

  it('takes sixty parts, and a job that cuts nothing', async () => {
    const text = await textOfPdf(setupSheetPdf(manyParts(60)));
    expect(text).toMatch(/ P60 /);
    expect(await textOfPdf(setupSheetPdf({ ...stored(), sides: [] }))).toMatch(/cuts nothing/);
  });

  it('has every page numbered, and the same bytes every time', async () => {
    const pages = await readPdf(setupSheetPdf(stored()));
    expect(pages.every((p) => /page \d+ of \d+/.test(p.text))).toBe(true);
    expect(await setupSheetPdf(stored())).toEqual(await setupSheetPdf(stored()));
  });
});

describe('the drawing of a board', () => {
  it('cuts off a name that its part has no room for, and the lists have it whole', async () => {
    const data = stored();
    const [side] = data.sides;
    const name =
      'a-name-so-long-that-no-part-of-any-drawing-ever-had-room-for-it-even-in-the-smallest-type-there-is';
    const items = side!.items.map((i, k) => (k === 0 ? { ...i, item: name, part: name } : i));
    const text = await textOfPdf(setupSheetPdf(withSide({ items })));
    expect(text).toMatch(/a-name-so-long[a-z-]*…/);
    expect(text).not.toContain(name);
  });
});
