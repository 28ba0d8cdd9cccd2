/// <reference types="node" />
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { feelLadder } from './feel-ladder.js';
import { readJob } from './job.js';
import { allowancesOf } from './job-allowances.js';

const text = readFileSync(new URL('../../../docs/examples/sideboard/job.json', import.meta.url), 'utf8');
// biome-ignore lint/suspicious/noExplicitAny: a job file's text, edited as a person would, before any schema has read it
const edited = (edit: (j: any) => void): string => {
  const j = JSON.parse(text);
  edit(j);
  return JSON.stringify(j);
};
const answers = [
  { rung: 'x3', felt: 'mallet' },
  { rung: 'x4', felt: 'hand' },
  { rung: 'x7', felt: 'rattles' },
];
const felt = (job: string, more: object = {}) => {
  const found = feelLadder(job, 'job.json', { board: 'sheet-1', cutter: 'router-6', answers, ...more });
  if (!found.ok) throw new Error(found.diagnostics[0]?.message);
  return found.value;
};
const snug = (job: string): number => {
  const read = readJob(job);
  if (!read.ok || read.value.ladder.kind !== 'felt') throw new Error('no ladder');
  return read.value.ladder.reading.snug;
};

it('says when it goes by the whole board, since nobody told where the plug was cut', () => {
  const job = edited((j) => {
    delete j.ladder;
  });
  const typed = { board: 'sheet-1', cutter: 'router-6', answers };
  const codes = (plug?: { x: number; y: number }) =>
    feelLadder(job, 'job.json', typed, undefined, plug).diagnostics.map((d) => d.code);
  expect(codes()).toContain('ladder/plug-unplaced');
  expect(codes({ x: 200, y: 100 })).not.toContain('ladder/plug-unplaced');
});

describe('ladders of several materials', () => {
  const two = edited((j) => {
    j.boards[1].material = 'birch 17';
    delete j.ladder;
  });
  const codes = (job: string) => readJob(job).diagnostics.map((d) => d.code);

  it('stand side by side, each in its material; one felt anew takes the place of the old', () => {
    const first = felt(two).text;
    const both = felt(first, {
      board: 'off-cut-1',
      answers: [
        { rung: 'x4', felt: 'mallet' },
        { rung: 'x5', felt: 'hand' },
      ],
    });
    const snugs = (ladders: typeof both.job.ladders) =>
      ladders.map((l) => (l.kind === 'felt' ? [l.material, l.reading.snug] : [l.kind]));
    expect(snugs(both.job.ladders)).toEqual([
      ['birch 18', 0.1],
      ['birch 17', 0.15],
    ]);
    const again = felt(both.text, {
      answers: [
        { rung: 'x2', felt: 'mallet' },
        { rung: 'x3', felt: 'hand' },
      ],
    });
    expect(snugs(again.job.ladders)).toEqual([
      ['birch 17', 0.15],
      ['birch 18', 0.05],
    ]);
    expect(allowancesOf(again.job, 'ladder').thickness.wanted).toBe(0.1);
  });

  it('leave a reason given for another material alone', () => {
    const reasoned = edited((j) => {
      j.boards[1].material = 'birch 17';
      j.ladder = { without: 'the off-cut is too small for a ladder', stock: 'off-cut-1' };
    });
    const { ladders } = felt(reasoned).job;
    expect(ladders.map((l) => [l.kind, l.material])).toEqual([
      ['felt', 'birch 18'],
      ['without', 'birch 17'],
    ]);
    const stranger = edited((j) => {
      j.ladder = { without: 'no stuff like this is here', stock: 'oak' };
    });
    expect(codes(stranger)).toContain('job/unknown-name');
  });

  it('may not contradict each other: two of one material are refused', () => {
    const entry = JSON.parse(felt(text).text).ladder;
    const twice = edited((j) => {
      j.ladder = [entry, { ...entry, board: 'off-cut-1', cutFor: undefined }];
    });
    expect(codes(twice)).toContain('job/two-ladders');
  });

  it('share the cutter: its diameter is the mean of what all of them show, weighed, and far apart it is said', () => {
    const entry = JSON.parse(felt(two).text).ladder;
    const gauge = (more: number) => ({
      slots: [{ cut: 20, measured: 20 + more }],
      pegs: [{ cut: 20, measured: 20 - more }],
    });
    const with2 = (a: number, b: number) =>
      edited((j) => {
        j.boards[1].material = 'birch 17';
        j.ladder = [
          { ...entry, ...gauge(a) },
          { ...entry, board: 'off-cut-1', cutFor: undefined, ...gauge(b) },
        ];
      });
    const read = readJob(with2(-0.02, 0));
    if (!read.ok) throw new Error(read.diagnostics[0]?.message);
    expect(read.value.router.diameter).toBeCloseTo(5.96, 9);
    expect(codes(with2(-0.02, 0))).not.toContain('job/cutters-disagree');
    expect(codes(with2(-0.06, 0.06))).toContain('job/cutters-disagree');
    expect(codes(with2(-0.4, -0.4))).toContain('gauge/other-cutter');
  });
});

describe('what a rung meant', () => {
  it('keeps the steps that the ladder was cut with', () => {
    const stepped = edited((j) => {
      j.ladder = { steps: { about: 0.2, step: 0.03 } };
    });
    const { text: written } = felt(stepped);
    expect(snug(written)).toBeCloseTo(0.2, 9);
    expect(JSON.parse(written).ladder.steps).toMatchObject({ about: 0.2, step: 0.03 });
  });

  it('does not follow the family or the clearance that the job is given later', () => {
    const { text: written } = felt(text);
    const later = JSON.parse(written);
    later.fit = { family: 'slip' };
    expect(snug(JSON.stringify(later))).toBeCloseTo(0.1, 9);
  });

  it('is the width that was really cut, when the cutter is found to be another size', () => {
    const later = JSON.parse(felt(text).text);
    later.cutters[0].diameter = '5.87 mm';
    // A cutter 0.10 smaller than assumed cut every rung 0.10 narrower.
    expect(snug(JSON.stringify(later))).toBeCloseTo(0, 9);
  });

  it('is measured against the sheet as it is known now', () => {
    const later = JSON.parse(felt(text).text);
    later.boards[0].readings = ['17.6 mm'];
    // The rungs were about 17.70 wide and more; of a sheet of 17.60 that is 0.10 more room.
    expect(snug(JSON.stringify(later))).toBeCloseTo(0.2, 2);
  });

  it('says what changes where the sheet measures a little otherwise now, and nothing where it does not', () => {
    const { text: written } = felt(text);
    const told = (more: number) => {
      const later = JSON.parse(written);
      later.boards[0].readings = [{ thickness: 17.7 + more, at: [50, 50] }];
      return readJob(JSON.stringify(later)).diagnostics.filter((d) => d.stage === 'ladder');
    };
    expect(told(0)).toEqual([]);
    expect(told(0.05).map((d) => [d.code, d.level])).toEqual([['ladder/sheet-moved', 'note']]);
    expect(told(0.05)[0]!.message).toContain('joints are cut with 0.05 mm less clearance');
    expect(told(-0.05)[0]!.message).toContain('joints are cut with 0.05 mm more clearance');
  });

  it('is refused by name for a sheet of another thickness, before anything is laid', () => {
    const { text: written } = felt(text);
    for (const readings of [[18.08, 18.1, 18.12], [12.1, 12], [17.5]]) {
      const later = JSON.parse(written);
      later.boards[0].readings = readings;
      const read = readJob(JSON.stringify(later));
      expect(read.ok).toBe(false);
      const [said] = read.diagnostics.filter((d) => d.level === 'error');
      expect(said!.code).toBe('ladder/other-thickness');
      expect(said!.message).toContain('this ladder was cut in a sheet of 17.7 mm');
      expect(readJob(JSON.stringify(later), 'job.json', { ladder: 'not yet' }).ok).toBe(true);
    }
  });

  it('goes by the spot where its plug was cut, not by the mean of the sheet', () => {
    const plug = { x: 2300, y: 600 };
    const found = feelLadder(
      text,
      'job.json',
      { board: 'sheet-1', cutter: 'router-6', answers },
      undefined,
      plug,
    );
    if (!found.ok) throw new Error(found.diagnostics[0]?.message);
    const { cutFor } = JSON.parse(found.value.text).ladder;
    expect(cutFor.plug).toEqual([2300, 600]);
    const sloped = (rise: number) => {
      const later = JSON.parse(found.value.text);
      const corners = [0, 610, 1220].flatMap((y) => [0, 1220, 2440].map((x) => [x, y] as const));
      later.boards[0].readings = corners.map((at) => ({ at, thickness: 17.7 + rise * (at[0] / 1220 - 1) }));
      return readJob(JSON.stringify(later));
    };
    // The mean stays 17.7; at the plug the sheet is 0.885 of the rise thicker.
    const little = sloped(0.09);
    const now = 17.7 + 0.09 * (2300 / 1220 - 1);
    if (!little.ok || little.value.ladder.kind !== 'felt') throw new Error('no ladder');
    expect(little.value.ladder.reading.snug).toBeCloseTo(0.1 + cutFor.thickness - now, 2);
    expect(little.diagnostics.find((d) => d.code === 'ladder/sheet-moved')!.message).toContain(
      'at (2300, 600)',
    );
    expect(sloped(0.25).diagnostics.map((d) => d.code)).toContain('ladder/other-thickness');
  });

  it('asks for answers where a ladder is only planned', () => {
    const planned = readJob(edited((j) => Object.assign(j, { ladder: { steps: { step: 0.03 } } })));
    expect(planned.diagnostics.map((d) => d.code)).toContain('job/no-ladder');
  });
});

describe('the relieved corner and the housing of a ladder', () => {
  const folder = new URL('../../../docs/examples/sideboard/', import.meta.url);
  const source = (name: string) =>
    name.endsWith('.master.json') ? readFileSync(new URL(name, folder)) : undefined;
  const feel = (more: object, job = text) =>
    feelLadder(job, 'job.json', { board: 'sheet-1', cutter: 'router-6', answers, ...more }, source);
  const value = (more: object) => {
    const found = feel(more);
    if (!found.ok) throw new Error(found.diagnostics[0]?.message);
    return found;
  };

  it('write down the depth that the program had, and cut housings by what they are off', () => {
    const { value: deep, diagnostics } = value({ housing: '8.12 mm' });
    expect(JSON.parse(deep.text).ladder.housing).toEqual({ cut: 8, measured: '8.12 mm' });
    expect(deep.job.ladder).toMatchObject({ kind: 'felt', deeper: 0.12 });
    expect(diagnostics.map((d) => [d.code, d.level])).toContainEqual(['ladder/housing-off', 'warning']);
    expect(diagnostics.find((d) => d.code === 'ladder/housing-off')!.message).toContain('0.12 mm too deep');
    expect(value({ housing: '8.02 mm' }).diagnostics.map((d) => d.code)).not.toContain('ladder/housing-off');
  });

  it('refuse a depth that no machine makes of the program', () => {
    const wrong = feel({ housing: '18.1 mm' });
    expect(wrong.ok).toBe(false);
    expect(wrong.diagnostics.map((d) => [d.code, d.level])).toContainEqual(['ladder/housing-off', 'error']);
  });

  it('call a plug that stands off the floor a problem of the relief, until the job gives more of it', () => {
    const { value: stands, diagnostics } = value({ corner: 'stands' });
    expect(JSON.parse(stands.text).ladder.corner).toEqual({ felt: 'stands', form: 'diagonal', surplus: 0.1 });
    const said = diagnostics.find((d) => d.code === 'ladder/corner-stands')!;
    expect(said.message).toContain('relief diagonal with a surplus of 0.1 mm lets no corner in');
    const more = JSON.parse(stands.text);
    more.relief.surplus = '0.2 mm';
    expect(readJob(JSON.stringify(more)).diagnostics.map((d) => d.code)).not.toContain(
      'ladder/corner-stands',
    );
    expect(value({ corner: 'bottoms' }).diagnostics.map((d) => d.code)).not.toContain('ladder/corner-stands');
  });

  it('are refused where the job has no such place', () => {
    const bare = edited((j) => {
      j.relief.form = 'none';
    });
    expect(feel({ corner: 'bottoms' }, bare).diagnostics.map((d) => d.code)).toEqual(['job/not-in-ladder']);
  });
});

it('a cutter that measures otherwise than the job says is named with the figure', () => {
  const measured = {
    slots: [{ cut: '19.94 mm', measured: '19.88 mm' }],
    pegs: [{ cut: '19.94 mm', measured: '20.00 mm' }],
  };
  const found = feelLadder(text, 'job.json', { board: 'sheet-1', cutter: 'router-6', answers, ...measured });
  const said = found.diagnostics.find((d) => d.code === 'gauge/cutter-differs')!;
  expect(said.message).toBe(
    "cutter 'router-6' is 5.91 mm ± 0.021 mm by slots and pegs of the ladder, and the job has 5.97 mm: 0.06 mm apart",
  );
});
