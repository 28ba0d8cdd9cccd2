import { type Clip, loadClip } from '@haunch/geometry';
import { beforeAll, describe, expect, it } from 'vitest';
import { textOfPdf } from '../../test/paper/pdf-text.js';
import { stored } from '../../test/paper/stored.js';
import { type Solid, solidsOfMaster } from '../assembly-picture/plate-solid.js';
import { assemblySheetPdf } from './assembly-sheet.js';
import { assemblySteps, peopleFor } from './assembly-steps.js';
import { piecesOf } from './pieces-of.js';

let clip: Clip;
let solids: readonly Solid[];
const { master } = stored().pieces[0]!;
beforeAll(async () => {
  clip = await loadClip();
  solids = solidsOfMaster(master, clip, 4);
});

const steps = () => {
  const found = assemblySteps(master, solids);
  if (!found.ok) throw new Error(found.diagnostics[0]?.message);
  return found.value;
};

describe('the steps of an assembly', () => {
  it('bring every part in, and every joint home once', () => {
    const all = steps();
    expect(new Set(all.flatMap((s) => [...s.moving, ...s.standing]))).toEqual(
      new Set(master.parts.map((p) => p.id)),
    );
    expect(all.flatMap((s) => s.joints).sort()).toEqual(master.mates.map((m) => m.id).sort());
  });

  it('say which places engage together: every opening of the joints that the step closes', () => {
    for (const s of steps()) {
      expect(new Set(s.places.map((p) => p.joint))).toEqual(new Set(s.joints));
      for (const p of s.places) {
        expect(s.moving).toContain(p.part);
        expect(s.partners).toContain(p.partner);
      }
    }
  });

  it('want more people for more things to hold, and for what is heavy', () => {
    expect([1, 2, 3, 5].map((hands) => peopleFor({ hands, weight: 5 }))).toEqual([1, 1, 2, 3]);
    expect([20, 21, 45, 500].map((weight) => peopleFor({ hands: 2, weight }))).toEqual([1, 2, 3, 4]);
    // By hand: the front rail is 420 × 70 × 17.8 mm less its fingers, at 700 kg/m³ 0.37 kg at the most.
    const front = steps().find((s) => s.moving.length === 1 && s.moving[0] === 'FRONT')!;
    expect(front.weight).toBeGreaterThan(0.25);
    expect(front.weight).toBeLessThan(0.37);
  });

  it('tap what moves, from behind: the mark lies at its rear end as it moves, in line with the place', () => {
    for (const s of steps())
      for (const p of s.places) {
        const way = p.at.map((v, k) => v - p.tap[k]!);
        const ahead = way.reduce((sum, v, k) => sum + v * s.direction[k]!, 0);
        expect(ahead).toBeGreaterThanOrEqual(-1e-9);
        expect(Math.hypot(...way)).toBeCloseTo(Math.abs(ahead), 9);
      }
  });

  it('are found from the geometry where the master lists none', () => {
    const found = assemblySteps({ ...master, assembly: [] }, solids);
    expect(found.ok && found.value.flatMap((s) => s.joints).sort()).toEqual(
      master.mates.map((m) => m.id).sort(),
    );
  });
});

describe('an assembly sheet', () => {
  it('has a picture and words for every step: what moves, what engages, where to tap, how many hands', async () => {
    const data = stored();
    const text = await textOfPdf(assemblySheetPdf(data, clip));
    const all = steps();
    for (const s of all) {
      expect(text).toContain(`${s.number} of ${all.length}`);
      for (const p of s.places)
        expect(text).toMatch(
          new RegExp(`One place engages, with ${p.partner}\\.|\\d with ${p.partner}[ ,.]`),
        );
    }
    expect(text).toMatch(/Tap at the marks?, through a block of scrap/);
    expect(text).toMatch(/One person can do it|separate things are held at once/);
    expect(text).toMatch(/Tall pieces tip/);
  });

  it('is the same, to the byte, every time', async () =>
    expect(await assemblySheetPdf(stored(), clip)).toEqual(await assemblySheetPdf(stored(), clip)));

  it('says so where nothing is known of how parts go together', async () => {
    expect(await textOfPdf(assemblySheetPdf({ ...stored(), pieces: [] }, clip))).toMatch(/nothing is known/);
  });

  it('keeps its parts and says why where no order is found', async () => {
    // Two plates that pass through each other can go nowhere.
    const [a, b] = master.parts;
    const twice = { ...b!, frame: { ...a!.frame }, outline: a!.outline, through: [], pockets: [], holes: [] };
    const stuck = {
      ...master,
      assembly: [],
      parts: [a!, twice],
      mates: master.mates.filter((m) => m.slotPart === a!.id && m.enteringPart === b!.id),
    };
    const data = { ...stored(), pieces: [{ name: 'stuck', count: 1, master: stuck }] };
    expect(await textOfPdf(assemblySheetPdf(data, clip))).toMatch(/No steps .*no order is known/);
  });
});

describe('the pieces of a job', () => {
  it('are told apart by their mates; copies are counted', () => {
    const copy = (suffix: string) => ({
      parts: master.parts.map((p) => ({ ...p, id: `${p.id}${suffix}` })),
      mates: master.mates.map((m) => ({
        ...m,
        id: `${m.id}${suffix}`,
        slotPart: `${m.slotPart}${suffix}`,
        enteringPart: `${m.enteringPart}${suffix}`,
      })),
    });
    const copies = ['', '/2', '/3'].map(copy);
    const merged = {
      ...master,
      assembly: [],
      parts: copies.flatMap((c) => c.parts),
      mates: copies.flatMap((c) => c.mates),
    };
    const pieces = piecesOf(merged);
    expect(pieces.map((p) => p.count)).toEqual([3]);
    expect(pieces[0]!.master.parts.map((p) => p.id)).toEqual(master.parts.map((p) => p.id));
    expect(piecesOf(master)).toEqual([{ name: master.title, count: 1, master }]);
  });
});
