import { rectangleRing } from '@haunch/geometry';
import type { Master, Part } from '@haunch/model';
import { describe, expect, it } from 'vitest';
import { checkFound } from '../src/found/check-found.js';
import { joinedMates } from '../src/found/joined-mates.js';
import { axisVector } from '../src/frame.js';
import {
  dryAssemble,
  type FindMasterOptions,
  type FoundMaster,
  findMaster,
  findMasterAgain,
  formatMaster,
  partsOfMaster,
  refitMaster,
} from '../src/index.js';
import { copy, demo, masterOf, valueIn } from './demo.js';
import { flat, rack, relieved, strewn, tongue, twins } from './found-pieces.js';
import { crate } from './mates-pieces.js';

const FIRST = { from: 'rack.dxf', answers: { 'piece-0': 1 } } as const;
const found = (parts: readonly Part[], options: FindMasterOptions = FIRST): FoundMaster =>
  valueIn(findMaster(parts, options));
const masterIn = (f: FoundMaster): Master => {
  if (!f.master) throw new Error(f.questions.map((q) => q.id).join());
  return f.master;
};
/** The questions without whose answers there is no master. */
const needed = (f: FoundMaster) => f.questions.filter((q) => q.taken === null);
const codes = (parts: readonly Part[], options: FindMasterOptions = FIRST): string[] =>
  findMaster(parts, options).diagnostics.map((d) => d.code);

const sizes = (m: Master): string[] =>
  m.parts
    .flatMap((p) =>
      partsOfMaster({ ...m, parts: [p] }).flatMap((q) =>
        [q.outline, ...q.through].map((c) => {
          const xs = c.ring.vertices.map((v) => v.x);
          const ys = c.ring.vertices.map((v) => v.y);
          const [w, h] = [xs, ys].map((v) => +(Math.max(...v) - Math.min(...v)).toFixed(4));
          return `${c.id} ${Math.min(w!, h!)} × ${Math.max(w!, h!)}`;
        }),
      ),
    )
    .sort();

describe('findMaster', () => {
  it('asks which of a piece and its mirror image is meant, and makes no master before it is told', () => {
    const { master, questions, unanswered } = found(rack(), { from: 'rack.dxf' });
    expect(master).toBeNull();
    expect(questions.map((q) => [q.id, q.about, q.choices.length, q.taken])).toEqual([
      ['piece-0', 'piece', 2, null],
    ]);
    expect(questions[0]!.standing!.map((s) => s.length)).toEqual([4, 4]);
    expect(unanswered.map((d) => [d.code, d.locus.part])).toEqual([['mates/needs-answer', 'left']]);
  });

  it.each([1, 2])('makes the two mirror images of each other, both of which go together (choice %i)', (k) => {
    const master = masterIn(found(strewn(rack(), 7), { from: 'rack.dxf', answers: { 'piece-0': k } }));
    expect(master.mates.map((m) => [m.slotPart, m.enteringPart].join('-')).sort()).toEqual([
      'left-high',
      'left-low',
      'right-high',
      'right-low',
    ]);
    expect(valueIn(dryAssemble(master)).interference.total).toBe(0);
    expect(masterOf(formatMaster(master))).toEqual(master);
    expect(master.assembly.length).toBeGreaterThan(0);
  });

  it('makes a master that refits slots, tenons and what goes along, at any thickness', () => {
    const refitted = valueIn(
      refitMaster(masterIn(found(strewn(rack(), 5))), {
        thicknesses: { left: 11.4, right: 12.7, low: 11.9, high: 12.2 },
      }),
    );
    expect(valueIn(dryAssemble(refitted)).interference.total).toBe(0);
    const text = sizes(refitted);
    // The slots take the boards' thicknesses; the boards' length over all keeps the outer size of the rack.
    expect(text).toContain('left.c1 11.9 × 50');
    expect(text).toContain('right.c4 12.2 × 45');
    expect(text).toContain('low.outline 200 × 424');
    expect(text).toContain('low.c1 10 × 40');
  });

  it('takes drawn clearance out, names it and keeps it in the record', () => {
    const drawn = findMaster(strewn(rack(12, 0.2), 3), FIRST);
    expect(drawn.diagnostics.map((d) => d.code)).toEqual(['mates/clearance-drawn']);
    const master = masterIn(valueIn(drawn));
    expect(master.found?.clearance).toEqual([0.1, 0.1]);
    expect(sizes(master)).toEqual(sizes(masterIn(found(strewn(rack(), 3)))));
  });

  it('takes drawn reliefs out and says how many', () => {
    const dogbones = (p: Part): Part => ({
      ...p,
      through: p.through.map((c) => ({ ...c, ring: relieved(c.ring), bare: relieved(c.ring) })),
    });
    const drawn = findMaster(
      rack().map((p) => (p.id === 'left' ? dogbones(p) : p)),
      FIRST,
    );
    expect(drawn.diagnostics.map((d) => [d.code, d.message.split(' ')[0]])).toEqual([
      ['mates/reliefs-drawn', '16'],
    ]);
    expect(sizes(masterIn(valueIn(drawn)))).toEqual(sizes(masterIn(found(rack()))));
  });

  it('says what stays of each plate, takes the outer face where nobody says, and the other one where they do', () => {
    const usual = found(rack());
    const { parts, envelope } = masterIn(usual);
    // Plain boards may be found turned over, so that either face may be the outer one.
    const outer = parts.map(({ frame }) => {
      const n = axisVector(frame.n);
      const k = n.findIndex((x) => x !== 0);
      return n[k]! * (frame.origin[k]! - envelope![k]! / 2) > 0 ? 'n+' : 'n-';
    });
    expect(parts.map((p) => p.hold)).toEqual(outer);
    expect(usual.questions.map((q) => [q.id, q.taken])).toEqual([
      ['up-0', 1],
      ...parts.map((p, k) => [`hold-${p.id}`, outer[k] === 'n-' ? 1 : 2]),
    ]);
    expect(parts.map((p) => p.id)).toEqual(['left', 'right', 'low', 'high']);
    const told = found(rack(), { ...FIRST, answers: { 'piece-0': 1, 'hold-left': 3 } });
    expect(masterIn(told).parts.map((p) => p.hold)).toEqual(['mid', ...outer.slice(1)]);
    expect(masterIn(told).found?.answers).toEqual({ 'piece-0': 1, 'hold-left': 3 });
  });

  it('stands the piece the way up that it is told', () => {
    const stood = (up: number): Master =>
      masterIn(found(rack(), { ...FIRST, answers: { 'piece-0': 1, 'up-0': up } }));
    const top = (m: Master, id: string): number => {
      const f = m.parts.find((p) => p.id === id)!.frame;
      return f.origin[2]!;
    };
    // The uprights lie one above the other as the piece is found; upside down they change places.
    expect(top(stood(1), 'left') > top(stood(1), 'right')).toBe(true);
    expect(top(stood(2), 'left') > top(stood(2), 'right')).toBe(false);
    for (const up of [1, 2, 3, 4, 5, 6]) expect(valueIn(dryAssemble(stood(up))).interference.total).toBe(0);
    expect(stood(5).envelope).toEqual([424, 200, 450]);
  });

  it('gives each mark its reason, each mate its certainty, and says what free cuts follow', () => {
    const { found: record, mates, marks } = masterIn(found(rack()));
    expect(Object.keys(record!.certainty).sort()).toEqual(mates.map((m) => m.id).sort());
    expect(new Set(record!.reasons.map((r) => r.mark))).toEqual(new Set(marks.map((m) => m.id)));
    expect(record!.reasons).toContainEqual(
      expect.objectContaining({ edge: 'left.c1/e2', reason: 'face', with: 'low' }),
    );
    expect(record!.free.map((f) => f.feature)).toEqual(['low.c1', 'high.c1']);
  });

  it('lets a person say what an edge follows, in so many words or by its mark, and keeps it', () => {
    const follows = { 'low.c1/e0': { left: -1 } };
    const told = masterIn(found(rack(), { ...FIRST, follows }));
    expect(told.found?.follows).toEqual(follows);
    const row = told.found!.reasons.find((r) => r.edge === 'low.c1/e0');
    expect(row?.reason).toBe('by hand');
    const again = masterIn(valueIn(findMasterAgain(told, { from: 'rack.dxf' })));
    expect(again).toEqual(told);
    const changed = copy(told);
    for (const s of changed.parts.find((p) => p.id === 'left')!.through[0]!.loop.segments) delete s.on;
    const kept = masterIn(valueIn(findMasterAgain(changed as Master, { from: 'rack.dxf' })));
    expect(kept.found?.follows).toEqual({ ...follows, 'left.c1/e2': {} });
    expect(kept.found?.reasons).toContainEqual({
      edge: 'left.c1/e2',
      mark: null,
      reason: 'by hand',
      with: 'left',
    });
  });

  it.each([0, 0.2])(
    'finds its own master again from its parts and record, drawn with %f mm clearance',
    (c) => {
      const master = masterIn(found(strewn(rack(12, c), 11)));
      expect(masterIn(valueIn(findMasterAgain(master, { from: 'rack.dxf' })))).toEqual(master);
    },
  );

  it('searches the same parts once, however many answers are given, and again when it was stopped', () => {
    const parts = strewn(rack(), 2);
    let ticks = 0;
    const run = { tick: () => ++ticks > 0 };
    expect(findMaster(parts, FIRST, { tick: () => false }).diagnostics.map((d) => d.code)).toContain(
      'mates/stopped',
    );
    const check = { ...FIRST, check: false };
    const once = findMaster(parts, check, run);
    expect(ticks).toBeGreaterThan(0);
    const before = ticks;
    expect(findMaster([...parts], check, run)).toEqual(once);
    expect(ticks).toBe(before);
    findMaster(parts.slice(1), check, run);
    expect(ticks).toBeGreaterThan(before);
  });

  it('gives the same bytes for the same parts', () => {
    const text = (): string => JSON.stringify(findMaster(strewn(rack(), 2), FIRST));
    expect(text()).toBe(text());
  });

  it('asks which of two parts alike but for their holes stands where, and exchanges them when told', () => {
    const same = twins();
    const asked = found(same, FIRST);
    expect(needed(asked).map((q) => [q.id, q.choices.length])).toEqual([['holes-high-low', 2]]);
    const at = (k: number): unknown =>
      masterIn(found(same, { ...FIRST, answers: { 'piece-0': 1, 'holes-high-low': k } })).parts.find(
        (p) => p.id === 'high',
      )!.frame.origin;
    expect(at(1)).not.toEqual(at(2));
  });

  it('names parts alike of which more than two have other holes', () => {
    const strips = crate(2, 6).map((s, k) =>
      flat(
        s.id,
        6,
        s.outline,
        [],
        [{ centre: { x: 20 + 5 * k, y: 20 }, diameter: 4, face: 'n+', depth: 'through' }],
      ),
    );
    const asked = findMaster(strips, { from: 'crate.dxf' });
    const ids = asked.ok ? asked.value.questions.map((q) => q.id) : [];
    const answers = Object.fromEntries(ids.map((id) => [id, 1]));
    expect(codes(strips, { from: 'crate.dxf', answers })).toContain('mates/holes-differ');
  });

  it('asks where a part belongs that makes no joint but has a place, and lays one beside that has none', () => {
    const shelf = flat('loose', 12, rectangleRing(0, 0, 398, 150));
    const asked = found([...rack(), shelf]);
    const [q, ...others] = needed(asked);
    expect([q!.id, others]).toEqual(['loose-loose', []]);
    const last = q!.choices.length;
    const answers = { 'piece-0': 1, 'loose-loose': last };
    const beside = masterIn(found([...rack(), shelf], { ...FIRST, answers }));
    expect(beside.parts.find((p) => p.id === 'loose')!.frame.origin[0]).toBeGreaterThan(450);
    const between = masterIn(
      found([...rack(), shelf], { ...FIRST, answers: { ...answers, 'loose-loose': 1 } }),
    );
    expect(between.found?.reasons).toContainEqual(
      expect.objectContaining({ reason: 'gap', edge: expect.stringMatching(/^loose\.outline/) }),
    );
    expect(codes([...rack(), flat('odd', 12, rectangleRing(0, 0, 77, 33))])).toEqual(['mates/fits-nothing']);
  });

  it('refuses parts and answers that cannot be, each by its name', () => {
    const board = (id: string, t: number | null): Part => flat(id, t, rectangleRing(0, 0, 300, 200));
    expect(codes([board('A', null), board('B', 18)])).toEqual(['mates/thickness-missing']);
    expect(codes([board('A', 18), board('B', 18)])[0]).toBe('mates/nothing-meets');
    expect(codes(rack(), { ...FIRST, answers: { 'piece-0': 3 } })).toEqual(['mates/no-such-choice']);
    expect(codes(rack(), { ...FIRST, answers: { 'piece-0': 1, 'piece-9': 1 } })).toEqual([
      'mates/no-such-question',
    ]);
    expect(codes(rack(), { ...FIRST, follows: { 'left.c1/e9': { low: 1 } } })).toEqual([
      'mates/no-such-edge',
    ]);
    expect(codes(rack(), { ...FIRST, follows: { 'left.c1/e0': { none: 1 } } })).toEqual([
      'mates/no-such-part',
    ]);
  });

  it('asks part by part where there are many ways, each answer leaving fewer', () => {
    const slots = [
      flat('back', 12, rectangleRing(0, 0, 260, 400), [
        rectangleRing(40, 100, 110, 112),
        rectangleRing(60, 300, 120, 312),
        rectangleRing(230, 140, 242, 215),
      ]),
      ...([70, 60, 75] as const).map((w, k) => flat(`tongue${k}`, 12, tongue(w, 12, 100 + 10 * k))),
    ];
    const asked = found(slots, { from: 'x' });
    expect(asked.questions.length).toBeGreaterThan(1);
    expect(asked.questions.every((q) => q.id.startsWith('stands-'))).toBe(true);
    const answers: Record<string, number> = {};
    let open = asked.questions;
    for (let k = 0; k < 8 && open.some((q) => q.taken === null); k++) {
      answers[open[0]!.id] = 1;
      const before = open.length;
      open = found(slots, { from: 'x', answers }).questions;
      if (open.some((q) => q.taken === null)) expect(open.length).toBeLessThan(before);
    }
    expect(found(slots, { from: 'x', answers }).master).not.toBeNull();
  });
});

describe('what is checked of a found master', () => {
  it('names a fault that the dry assembly shows', () => {
    const shifted = copy(demo);
    shifted.parts.find((p) => p.id === 'S1')!.frame.origin[2] += 1;
    const { said } = checkFound(shifted as Master);
    expect(new Set(said.map((d) => [d.code, d.level].join()))).toEqual(
      new Set(['mates/found-fault,warning']),
    );
    expect(checkFound(demo).said).toEqual([]);
  });

  it('names a pair that does not touch where it stands', () => {
    const said: { code: string }[] = [];
    const apart = demo.parts.filter((p) => p.id === 'EL' || p.id === 'ER');
    expect(joinedMates(apart, [{ at: [0, 1], certainty: 1 }], said as never).mates).toEqual([]);
    expect(said.map((d) => d.code)).toEqual(['mates/no-touch']);
  });
});
