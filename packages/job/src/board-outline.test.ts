import { pointAlong, pointInRing, ringArea, ringBounds, segmentOfBulge } from '@haunch/geometry';
import { thicknessAt } from '@haunch/model';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bulgeThrough } from './board-outline.js';
import { boardsOfJob } from './boards-of-job.js';
import { readJob } from './job.js';
import { JobBoardSchema } from './job-schema.js';
import { itemFor, layJob } from './lay-job.js';
import { layoutPicture } from './layout-picture.js';
import { loadPieces } from './load-pieces.js';
import { type MakeInput, makeJob } from './make.js';
import { offCutsLeft } from './off-cuts-left.js';

/** An L of 900 × 600, its arms 200 and 250 wide, the end of the lower one round. */
const BEND = [[0, 0], { at: [800, 0], through: [900, 100] }, [800, 200], [250, 200], [250, 600], [0, 600]];
const boardWith = (outline: readonly unknown[], more: object = {}) =>
  boardsOfJob(
    [
      JobBoardSchema.parse({
        id: 'rest',
        width: 900,
        height: 600,
        readings: [18],
        nominal: 18,
        outline,
        ...more,
      }),
    ],
    'job.json',
    (path) => path.length,
  );

describe('an arc through a place', () => {
  it('is the arc that the place was taken from, whichever way it turns', () =>
    fc.assert(
      fc.property(
        fc.double({ min: -0.95, max: 0.95, noNaN: true }).filter((b) => Math.abs(b) > 0.01),
        fc.double({ min: 0.1, max: 0.9, noNaN: true }),
        (bulge, share) => {
          const [from, to] = [
            { x: 12, y: -30 },
            { x: 212, y: 70 },
          ];
          const through = pointAlong(segmentOfBulge(from, to, bulge), share);
          expect(bulgeThrough(from, through, to)).toBeCloseTo(bulge, 9);
        },
      ),
    ));

  it('is straight through a place between its ends, and none beyond them', () => {
    const [from, to] = [
      { x: 0, y: 0 },
      { x: 100, y: 0 },
    ];
    expect(bulgeThrough(from, { x: 40, y: 0 }, to)).toBe(0);
    expect(bulgeThrough(from, { x: 140, y: 0 }, to)).toBeUndefined();
    expect(bulgeThrough(from, from, to)).toBeUndefined();
    expect(bulgeThrough(from, { x: 50, y: 50 }, from)).toBeUndefined();
  });
});

describe('a board that is no rectangle', () => {
  it('has the outline that is written, either way round, and its mean over what is there', () => {
    const readings = [
      { at: [20, 20], thickness: 17 },
      { at: [700, 20], thickness: 18.7 },
      { at: [20, 580], thickness: 17 },
    ];
    const { boards, problems } = boardWith(BEND, { readings });
    expect(problems.filter((p) => p.level === 'error')).toEqual([]);
    const { outline, thickness, map } = boards[0]!;
    expect(ringArea(outline)).toBeCloseTo(250 * 600 + 550 * 200 + (Math.PI * 100 * 100) / 2, 3);
    expect(pointInRing(outline, { x: 890, y: 100 })).toBe('inside');
    expect(pointInRing(outline, { x: 890, y: 20 })).toBe('outside');
    // More of it lies on the left, where it is thin, than of its box.
    expect(thickness).toBeLessThan(thicknessAt(map!, { x: 450, y: 300 }).thickness - 0.1);
    const other = boardWith([
      [0, 0],
      [0, 600],
      [250, 600],
      [250, 200],
      { at: [800, 200], through: [900, 100] },
      [800, 0],
    ]);
    expect(ringArea(other.boards[0]!.outline)).toBeCloseTo(ringArea(outline), 6);
  });

  it.each([
    [
      'crosses itself',
      [
        [0, 0],
        [900, 600],
        [900, 0],
        [0, 600],
      ],
      'board-outline-crosses',
    ],
    [
      'runs over itself',
      [
        [0, 0],
        [900, 0],
        [900, 600],
        [900, 300],
        [0, 600],
      ],
      'board-outline-crosses',
    ],
    [
      'has a corner twice',
      [
        [0, 0],
        [900, 0],
        [450, 300],
        [900, 600],
        [0, 600],
        [450, 300],
      ],
      'board-outline-crosses',
    ],
    [
      'encloses nothing',
      [
        [0, 0],
        [900, 0],
        [450, 0],
      ],
      'board-outline-flat',
    ],
    [
      'has two corners and no arc',
      [
        [0, 0],
        [900, 600],
      ],
      'board-outline-flat',
    ],
    [
      'is less wide than the board',
      [
        [0, 0],
        [880, 0],
        [880, 600],
        [0, 600],
      ],
      'board-outline-size',
    ],
    [
      'counts from elsewhere',
      [
        [10, 0],
        [910, 0],
        [910, 600],
        [10, 600],
      ],
      'board-outline-size',
    ],
    [
      'bows out of its box',
      [[0, 0], { at: [900, 0], through: [950, 300] }, [900, 600], [0, 600]],
      'board-outline-size',
    ],
    [
      'has an arc through a place beside it',
      [[0, 0], { at: [900, 0], through: [900, 700] }, [900, 600], [0, 600]],
      'board-outline-arc',
    ],
  ])('is refused where it %s, with its place in the job', (_, outline, code) => {
    const { boards, problems } = boardWith(outline);
    expect(boards).toEqual([]);
    expect(problems.map((p) => p.code)).toEqual([`job/${code}`]);
    expect(problems[0]!.locus).toMatchObject({ file: 'job.json', board: 'rest' });
    expect(problems[0]!.locus.path).toMatch(/^boards\[0\]\.outline/);
    expect(problems[0]!.hint).not.toBe('');
  });

  it('has no place for a pin where there is no board, and no stop where no edge of it is', () => {
    const pins = boardWith(BEND, {
      turnOver: {
        axis: 'x',
        pins: [
          [600, 300],
          [100, 300],
        ],
        diameter: 8,
      },
    });
    expect(pins.problems.map((p) => p.code)).toEqual(['job/pin-off-board']);
    const stops = boardWith(BEND, {
      turnOver: {
        axis: 'y',
        stops: [
          [100, 600],
          [500, 600],
          [0, 300],
        ],
        diameter: 20,
      },
    });
    expect(stops.problems.map((p) => p.code)).toEqual(['job/stop-off-edge']);
  });

  it('names a defect that is off it', () => {
    const { problems } = boardWith(BEND, { defects: [{ box: [910, 0, 950, 40], face: 'up' }] });
    expect(problems).toMatchObject([
      { code: 'job/defect-off-board', locus: { path: 'boards[0].defects[0]', board: 'rest' } },
    ]);
  });
});

const PLATE = (w: number, h: number) =>
  `<svg xmlns="http://www.w3.org/2000/svg" width="${w}mm" height="${h}mm" viewBox="0 0 ${w} ${h}"><rect x="0" y="0" width="${w}" height="${h}" fill="none" stroke="black"/></svg>`;

/** Plates of 300 × 160 and 200 × 220, laid on the L. */
const input = (board: object = {}, lay: object = {}): MakeInput => ({
  text: JSON.stringify({
    format: 'haunch-job',
    version: 1,
    title: 'plates',
    pieces: [
      { source: 'wide.svg', thickness: 18, count: 2 },
      { source: 'high.svg', thickness: 18, prefix: 'h-' },
    ],
    boards: [{ id: 'rest', width: 900, height: 600, readings: [18], grain: 'none', outline: BEND, ...board }],
    cutters: [{ id: 'router-6', number: 1, diameter: 6, rpm: 18000, chipLoad: 0.12, depthPerPass: 6.5 }],
    ladder: { without: 'nothing is joined in it' },
    lay: { effort: 400, improve: 60, ...lay },
  }),
  file: 'job.json',
  source: (n) => (n === 'wide.svg' ? PLATE(300, 160) : n === 'high.svg' ? PLATE(200, 220) : undefined),
});
function laidOut(board?: object, lay?: object) {
  const given = input(board, lay);
  const job = readJob(given.text, given.file);
  if (!job.ok) throw new Error(JSON.stringify(job.diagnostics));
  const pieces = loadPieces(job.value, given.source);
  if (!pieces.ok) throw new Error(JSON.stringify(pieces.diagnostics));
  return { job: job.value, laid: layJob(job.value, pieces.value) };
}

describe('a job on a board that is no rectangle', () => {
  it('is laid on what is there, leaves off-cuts of what is there, is cut and proved, and is drawn as it is', async () => {
    const made = await makeJob(input({ defects: [{ box: [60, 20, 90, 40], face: 'up' }] }));
    if (!made.ok) throw new Error(JSON.stringify(made.diagnostics));
    const { boards, laid, job } = made.value;
    expect(laid.referee.valid).toBe(true);
    const [b] = boards;
    const { outline } = b!.board;
    for (const { part } of b!.items)
      for (const v of part.outline.ring.vertices) expect(pointInRing(outline, v)).toBe('inside');
    expect(b!.proof.pass).toBe(true);
    const curves = layoutPicture(b!).groups.flatMap((g) => g.curves);
    expect(curves.find((c) => c.style === 'board')!.ring).toEqual(outline);
    expect(curves.filter((c) => c.style === 'defect').map((c) => c.title)).toEqual([
      'defect of the upper face',
    ]);
    const own = laid.boards[0]!;
    for (const o of offCutsLeft(job, laid, own))
      for (const p of [
        [o.x, o.y],
        [o.x + o.width, o.y],
        [o.x, o.y + o.height],
        [o.x + o.width, o.y + o.height],
      ] as const)
        expect(pointInRing(outline, { x: p[0], y: p[1] })).not.toBe('outside');
  });

  it('keeps what may be seen off a defect, and names what a person laid over one', () => {
    const knot = { box: [100, 60, 130, 90], face: 'down' };
    const { laid } = laidOut({ defects: [knot] });
    if (!laid.ok) throw new Error(JSON.stringify(laid.diagnostics));
    for (const { part } of laid.value.boards[0]!.items) {
      const box = ringBounds(part.outline.ring);
      const over = box.minX < 130 && box.maxX > 100 && box.minY < 90 && box.maxY > 60;
      expect(over).toBe(false);
    }
    const by = laidOut({ defects: [knot] }, { placements: { 'h-P-1': { board: 'rest', at: [20, 20] } } });
    expect(by.laid.ok).toBe(false);
    expect(by.laid.diagnostics[0]).toMatchObject({ code: 'lay/placed-wrong', locus: { part: 'h-P-1' } });
    expect(by.laid.diagnostics[0]!.message).toContain('lower face of board rest');
  });

  it('asks only after the face that is seen, where the part says which', () => {
    const { boards } = boardWith(BEND, { defects: [{ box: [0, 0, 40, 40], face: 'both' }] });
    const { laid } = laidOut();
    if (!laid.ok) throw new Error('it cannot be laid');
    const [part] = laid.value.fitted.parts;
    expect(boards[0]!.defects!.map((d) => d.face)).toEqual(['up', 'down']);
    expect(itemFor({ ...part!, showFace: 'n+', cutFace: 'n+' }, boards).shows).toEqual(['up']);
    expect(itemFor({ ...part!, showFace: 'n+', cutFace: 'n-' }, boards).shows).toEqual(['down']);
    expect(itemFor(part!, boards).shows).toEqual(['up', 'down']);
    expect(itemFor(part!, boardWith(BEND).boards).shows).toBeUndefined();
  });

  it('is refused for its outline alone, and for nothing that only follows from it', () => {
    const draft = JSON.parse(input().text);
    draft.boards[0].outline = [
      [0, 0],
      [900, 600],
      [900, 0],
      [0, 600],
    ];
    const read = readJob(JSON.stringify(draft), 'job.json');
    expect(read.diagnostics.map((d) => d.code)).toEqual(['job/board-outline-crosses']);
  });

  it('names a board that is all keep-out', () => {
    const { laid } = laidOut({
      keepOuts: [
        [0, 0, 900, 200],
        [0, 200, 250, 600],
      ],
    });
    expect(laid.ok).toBe(false);
    expect(laid.diagnostics.map((d) => d.code)).toContain('lay/keep-out-covers-board');
  });
});
