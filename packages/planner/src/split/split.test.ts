import { rectangleRing } from '@haunch/geometry';
import type { Move, Place } from '@haunch/model';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { formProblems } from '../../test/laws.js';
import { boardOf, contourOf, DRILL, inputOf, MACHINE, partOf, ROUTER } from '../../test/workshop.js';
import { planBoard } from '../plan-board.js';
import type { Plan } from '../plan-input.js';
import { splitToolpath, stepsOfChanges, withoutChanges } from './split-toolpath.js';
import { withPauses } from './with-pauses.js';

const ring = (x: number, y: number) => contourOf(`A.m${x}`, rectangleRing(x, y, x + 80, y + 40));
const part = partOf('A', rectangleRing(40, 40, 440, 340), {
  through: [ring(80, 80), ring(200, 80)],
  pockets: [{ ...contourOf('A.h', rectangleRing(80, 200, 98.1, 300)), face: 'n+', depth: 8 }],
  holes: [{ id: 'A.d', centre: { x: 300, y: 250 }, diameter: 5, face: 'n+', depth: 'through' }],
});
const input = inputOf([part], { board: boardOf(500, 400), cutters: [ROUTER, DRILL] });
const planned = planBoard(input);
if (!planned.ok) throw new Error(planned.diagnostics.map((d) => d.message).join('; '));
const plan: Plan = planned.value;
const ids = plan.workplan.steps.map((s) => s.id);

/** Every motion at feed with the cutter that makes it, its start and whether the spindle turns. */
function cutsIn(moves: readonly Move[]): string[] {
  let [at, cutter, rpm] = [undefined as Place | undefined, 0, 0];
  return moves.flatMap((m) => {
    if (m.kind === 'cutter') cutter = m.number;
    if (m.kind === 'spindle') rpm = m.rpm;
    if (!('to' in m)) return [];
    const from = at;
    at = m.to;
    return m.kind === 'rapid' ? [] : [JSON.stringify([cutter, rpm, from, m])];
  });
}

describe('a toolpath in pieces', () => {
  it('cuts what the whole cuts, wherever it is split', () => {
    fc.assert(
      fc.property(fc.subarray(ids), (steps) => {
        const pieces = splitToolpath(plan.toolpath, steps);
        expect(pieces).toHaveLength(steps.filter((s) => s !== ids[0]).length + 1);
        expect(pieces.flatMap((p) => cutsIn(p.moves))).toEqual(cutsIn(plan.toolpath.moves));
      }),
    );
  });

  it('keeps the form of a plan in every piece, and ends each with the spindle stopped', () => {
    for (const piece of splitToolpath(plan.toolpath, ids)) {
      const steps = plan.workplan.steps.filter((s) => piece.moves.some((m) => m.from === s.id));
      const own = { ...plan, toolpath: piece, workplan: { ...plan.workplan, steps } };
      expect(formProblems(own, input, 0)).toEqual([]);
      expect(piece.moves.at(-1)).toMatchObject({ kind: 'spindle', rpm: 0 });
    }
  });

  it('begins each piece high, over its first place, with its cutter and a spindle that has come up to speed', () => {
    for (const piece of splitToolpath(plan.toolpath, ids).slice(1)) {
      const kinds = piece.moves.map((m) => m.kind);
      expect(kinds.slice(0, 5)).toEqual(['note', 'rapid', 'cutter', 'spindle', 'dwell']);
      expect(piece.moves[1]).toMatchObject({ to: { z: MACHINE.clearance } });
      expect(piece.moves[4]).toMatchObject({ seconds: MACHINE.spinUp });
    }
  });

  it('states the work offset that is in force again', () => {
    const [first, ...rest] = plan.toolpath.moves;
    const moves: Move[] = [first!, { kind: 'offset', code: 55, z: 2, from: ids[0]! }, ...rest];
    const [, second] = splitToolpath({ ...plan.toolpath, moves }, [ids[2]!]);
    expect(second!.moves.find((m) => m.kind === 'offset')).toEqual({
      kind: 'offset',
      code: 55,
      z: 2,
      from: ids[2],
    });
    expect(second!.moves.findIndex((m) => m.kind === 'offset')).toBeLessThan(
      second!.moves.findIndex((m) => m.kind === 'rapid'),
    );
  });

  it('is one piece for each cutter when split at the changes, with none left in it', () => {
    const steps = stepsOfChanges(plan.toolpath);
    expect(steps).toEqual([plan.workplan.steps.find((s) => s.cutter === 'router-6')!.id]);
    const pieces = splitToolpath(plan.toolpath, steps);
    expect(pieces.map((p) => p.moves.flatMap((m) => (m.kind === 'cutter' ? [m.id] : [])))).toEqual([
      ['drill-5'],
      ['router-6'],
    ]);
    for (const p of pieces) expect(withoutChanges(p).moves.every((m) => m.kind !== 'cutter')).toBe(true);
  });

  it('refuses a step that is not there, and one that does not begin high', () => {
    expect(() => splitToolpath(plan.toolpath, ['sheet-1/999 X'])).toThrow(RangeError);
    const start = plan.toolpath.moves.findIndex((m) => m.from === ids[2]);
    const up = plan.toolpath.moves.slice(0, start).reduce((last, m, i) => ('to' in m ? i : last), -1);
    const low = plan.toolpath.moves.filter((_, i) => i !== up);
    expect(() => splitToolpath({ ...plan.toolpath, moves: low }, [ids[2]!])).toThrow(RangeError);
  });
});

describe('a pause', () => {
  const aside = { x: 500, y: 400 };
  const after = (id: string) => withPauses(plan, [{ after: id, text: 'try the plug', aside }], MACHINE);

  it('adds no cut and moves none, after whichever step', () => {
    for (const id of ids) {
      const paused = after(id);
      expect(cutsIn(paused.toolpath.moves)).toEqual(cutsIn(plan.toolpath.moves));
      expect(formProblems(paused, input, 0)).toEqual([]);
    }
  });

  it('has the cutter aside and high, and the spindle stopped, while it waits', () => {
    for (const id of ids) {
      const { moves } = after(id).toolpath;
      const i = moves.findIndex((m) => m.kind === 'pause');
      const before = moves.slice(0, i);
      expect(before.filter((m) => m.kind === 'spindle').at(-1)).toMatchObject({ rpm: 0 });
      expect(before.filter((m) => 'to' in m).at(-1)).toMatchObject({
        to: { ...aside, z: MACHINE.clearance },
      });
      expect(moves[i]).toEqual({ kind: 'pause', text: 'try the plug', from: id });
    }
  });

  it('counts the way aside and the spindle’s start, not the wait', () => {
    const { workplan } = after(ids[1]!);
    const added = workplan.seconds - plan.workplan.seconds;
    expect(added).toBeGreaterThan(MACHINE.spinUp);
    const [was, is] = [plan, { workplan }].map((p) => p.workplan.steps[1]!);
    expect(is!.spent!.dwell! - was!.spent!.dwell!).toBe(MACHINE.spinUp);
    expect(is!.seconds - was!.seconds).toBeCloseTo(added, 9);
  });

  it('can be split at like any other place', () => {
    const paused = after(ids[1]!);
    const pieces = splitToolpath(paused.toolpath, [ids[2]!]);
    expect(pieces.flatMap((p) => cutsIn(p.moves))).toEqual(cutsIn(plan.toolpath.moves));
  });

  it('is refused after a step that is not there', () =>
    expect(() => after('sheet-1/999 X')).toThrow(RangeError));
});
