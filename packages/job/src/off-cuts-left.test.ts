import { readFileSync } from 'node:fs';
import { inParent } from '@haunch/gauge';
import { flattenRing, loadClip, rectangleRing, ringBounds } from '@haunch/geometry';
import { thicknessAt } from '@haunch/model';
import { describe, expect, it } from 'vitest';
import { boardsOfJob } from './boards-of-job.js';
import { readJob } from './job.js';
import { type JobBoard, JobBoardSchema } from './job-schema.js';
import { layJob } from './lay-job.js';
import { loadPieces } from './load-pieces.js';
import { ladderOutlines } from './make-ladder.js';
import { areaLeft, leftForJob, offCutsLeft } from './off-cuts-left.js';

const dir = new URL('../../../docs/examples/reading-stand/', import.meta.url);
const source = (name: string): Uint8Array => readFileSync(new URL(name, dir));
const job = readJob(readFileSync(new URL('job.json', dir), 'utf8'), 'job.json');
if (!job.ok) throw new Error('the example cannot be read');
const pieces = loadPieces(job.value, source);
if (!pieces.ok) throw new Error('its master cannot be read');
const laid = layJob(job.value, pieces.value);
if (!laid.ok) throw new Error('it cannot be laid');
const [sheet] = laid.value.boards;
const left = offCutsLeft(job.value, laid.value, sheet!);

const boardOf = (b: JobBoard) => boardsOfJob([b], 'job.json', () => 1).boards[0]!;

describe('offCutsLeft', () => {
  it('leaves rectangles worth keeping that no part, no ladder and no kerf round them reaches into', async () => {
    expect(left.length).toBeGreaterThan(0);
    const clip = await loadClip();
    const cutter = job.value.router.diameter;
    const cut = [
      ...sheet!.items.map((i) => i.part.outline.ring),
      ...ladderOutlines(job.value, laid.value, sheet!.board),
    ].map((r) => clip.grow([flattenRing(r, { tolerance: 0.001 })], cutter - 0.05, 0.001));
    const box = ringBounds(sheet!.board.outline);
    for (const o of left) {
      expect(Math.min(o.width, o.height)).toBeGreaterThanOrEqual(100);
      expect(o.x >= box.minX && o.x + o.width <= box.maxX).toBe(true);
      expect(o.y >= box.minY && o.y + o.height <= box.maxY).toBe(true);
      const room = [[...rectangleRing(o.x, o.y, o.x + o.width, o.y + o.height).vertices]];
      for (const c of cut) expect(clip.intersection(c, room)).toEqual([]);
    }
    expect(new Set(left.map((o) => o.id)).size).toBe(left.length);
  });

  it('joins two that touch to one board where the job wants it, and that one is clear of all as well', async () => {
    const { settings } = job.value;
    const wanted = {
      ...job.value,
      settings: { ...settings, lay: { ...settings.lay, offCuts: 'joined' as const } },
    };
    const other = offCutsLeft(wanted, laid.value, sheet!);
    const one = other.find((o) => o.outline);
    expect(one).toBeDefined();
    expect(other).toHaveLength(left.length - 1);
    const area = (all: typeof left): number => all.reduce((sum, o) => sum + areaLeft(o), 0);
    expect(area(other)).toBeCloseTo(area(left), -2);
    const clip = await loadClip();
    const room = [one!.outline!.map((c) => ({ x: one!.x + c.x, y: one!.y + c.y }))];
    for (const { part } of sheet!.items) {
      const ring = flattenRing(part.outline.ring, { tolerance: 0.001 });
      expect(clip.intersection(clip.grow([ring], job.value.router.diameter - 0.05, 0.001), room)).toEqual([]);
    }
  });

  it('writes each as a board of the next job, as thick at every place as the sheet was there', () => {
    const of = job.value.settings.boards[0]!;
    for (const o of left) {
      const board = boardOf(JobBoardSchema.parse(leftForJob(of, o)));
      expect(board).toMatchObject({ id: o.id, stock: of.stock, grain: of.grain });
      for (const [u, v] of [
        [0, 0],
        [o.width, 0],
        [o.width / 2, o.height],
      ] as const)
        expect(thicknessAt(board.map!, { x: u, y: v }).thickness).toBeCloseTo(
          thicknessAt(sheet!.board.map!, { x: o.x + u, y: o.y + v }).thickness,
          6,
        );
    }
  });

  it('takes along the flaws that lie in it, cut off at its edges, and no others', () => {
    const of = JobBoardSchema.parse({
      ...{ id: 'sheet', width: '1000 mm', height: '800 mm', readings: ['18 mm'], nominal: '18 mm' },
      defects: [
        { box: [250, 90, 150, 300], face: 'down' },
        { box: [0, 0, 200, 100], face: 'up' },
      ],
    });
    const part = { id: 'sheet-rest', board: 'sheet', x: 200, y: 100, width: 500, height: 400 };
    const own = JobBoardSchema.parse(leftForJob(of, part));
    expect(own.defects).toEqual([{ box: [0, 0, 50, 200], face: 'down' }]);
    const { boards, problems } = boardsOfJob([own], 'job.json', () => 1);
    expect(problems.filter((p) => p.level === 'error')).toEqual([]);
    expect(boards[0]!.defects).toMatchObject([{ face: 'down' }]);
  });

  it('knows of an off-cut of a turned off-cut where it lay in the sheet that both come from', () => {
    const of = JobBoardSchema.parse({
      id: 'rest',
      width: '400 mm',
      height: '800 mm',
      grain: 'y',
      offCutOf: {
        width: '2440 mm',
        height: '1220 mm',
        readings: [
          { at: [0, 0], thickness: '17.4 mm' },
          { at: ['2440 mm', 0], thickness: '17.9 mm' },
          { at: [0, '1220 mm'], thickness: '17.6 mm' },
        ],
        at: ['1500 mm', '700 mm'],
        turnDegrees: 90,
        turnedOver: true,
      },
    });
    const part = { id: 'rest-rest', board: 'rest', x: 30, y: 120, width: 340, height: 600 };
    const [whole, own] = [of, JobBoardSchema.parse(leftForJob(of, part))].map(boardOf);
    for (const p of [
      { x: 0, y: 0 },
      { x: 340, y: 600 },
    ]) {
      const there = { x: p.x + part.x, y: p.y + part.y };
      expect(thicknessAt(own!.map!, p).thickness).toBeCloseTo(thicknessAt(whole!.map!, there).thickness, 6);
      const [a, b] = [inParent(own!.map!.motion, p), inParent(whole!.map!.motion, there)];
      expect([a.x, a.y]).toEqual([expect.closeTo(b.x, 6), expect.closeTo(b.y, 6)]);
    }
  });
});
