import { describe, expect, it } from 'vitest';
import { moveLength } from '../src/read/move-length.js';
import type { NcMotion, NcMove } from '../src/read/nc-reading.js';
import { readProgram } from '../src/read/read-program.js';
import expressions from './nistir-6556/expressions.json' with { type: 'json' };
import lines from './nistir-6556/lines.json' with { type: 'json' };
import groups from './nistir-6556/modal-groups.json' with { type: 'json' };
import samples from './nistir-6556/samples.json' with { type: 'json' };

// Everything here is checked against NISTIR 6556, The NIST RS274/NGC Interpreter, Version 3 (2000).

const motions = (moves: readonly NcMove[]): NcMotion[] =>
  moves.filter((m): m is NcMotion => m.kind === 'rapid' || m.kind === 'linear' || m.kind === 'arc');
const errors = (text: string) => readProgram(text).diagnostics.filter((d) => d.level === 'error');

interface State {
  x?: number;
  y?: number;
  z?: number;
  units?: string;
  mode?: string;
  comp?: string;
  plane?: string;
  feed_mode?: string;
  '#3'?: number;
}

/** The lines that put the control into the state that a case needs; its own line follows as line 5. */
function preface(s: State): string[] {
  return [
    `G17 G40 G49 G90 G94 G98 ${s.units === 'in' ? 'G20' : 'G21'}`,
    `G0 X${s.x ?? 0} Y${s.y ?? 0} Z${s.z ?? 10}`,
    `${s.mode === 'G80' ? 'G80 F100' : `G1 X${s.x ?? 0} F100`} ${s['#3'] === undefined ? '' : `#3=${s['#3']}`}`,
    [s.comp === 'on' ? 'G41 D1' : '', s.plane === 'XZ' ? 'G18' : '', s.feed_mode ?? ''].join(' '),
  ];
}

describe('every line of the report that is legal is read, every other is refused', () => {
  it.each(lines.lines.map((c) => [c.line, c] as const))('%s', (_, c) => {
    const text = [...preface((c.state ?? {}) as State), c.line, 'M2'].join('\n');
    const here = errors(text).filter((d) => d.locus.line === 5);
    // The report prints this line for its order alone: `G1` without an axis word breaks another of its rules.
    if (c.why.includes('strict reader')) expect(here.map((d) => d.code)).toEqual(['nc/missing-word']);
    else if (c.legal) expect(here).toEqual([]);
    else {
      expect(here).toHaveLength(1);
      expect(here[0]!.hint).not.toBe('');
    }
  });

  it('the files of section 3.1', () => {
    expect(errors('%\nG21\nG0 X1\n')).toHaveLength(1);
    expect(errors('%\nG21\nG0 X1\nM2\n')).toHaveLength(1);
    expect(errors('G21\nG0 X1\n')).toHaveLength(1);
    expect(errors('G21\nG0 X1\nM2\n')).toEqual([]);
    expect(errors('\n %\t\nG21\nG0 X1\n%\n')).toEqual([]);
    expect(errors('%\nG21\nG0 X1\n%\nthis is ((( ignored')).toEqual([]);
    expect(errors('G21\nG0 X1\nM2\nthis is ((( ignored')).toEqual([]);
    expect(readProgram('%\nG21 G0 X1\n%\n').end).toBe('percent');
    expect(readProgram('G21 G0 X1\nM30\n').end).toBe('M30');
  });
});

describe('every expression of the report has its value', () => {
  it.each(expressions.cases.map((c) => [c.expr, c.value] as const))('%s', (expr, value) => {
    const { moves, diagnostics } = readProgram(`G21 G0 X ${expr}\nM2\n`);
    expect(diagnostics).toEqual([]);
    expect(Math.abs(motions(moves)[0]!.to.x - value)).toBeLessThanOrEqual(1e-9);
  });
});

describe('modal groups (Table 4)', () => {
  const all = Object.values(groups.G).filter((g) => !g.includes('G4'));
  it.each(all.map((g) => [g.join(' '), g] as const))('two of %s on one line are refused', (_, codes) => {
    for (const a of codes)
      for (const b of codes)
        if (a !== b)
          expect(errors(`G21\n${a} ${b} X1 F1\nM2`).map((d) => d.code)).toContain('nc/code-conflict');
  });
  it.each(Object.values(groups.M).map((m) => [m.join(' '), m] as const))(
    'two of %s on one line are refused',
    (_, codes) => {
      for (const a of codes)
        for (const b of codes)
          if (a !== b)
            expect(errors(`G21\nT1 ${a} ${b}\nM2`).map((d) => d.code)).toContain('nc/code-conflict');
    },
  );
  it('every code of the table is known', () => {
    for (const code of [...Object.values(groups.G).flat(), ...Object.values(groups.M).flat()])
      expect(errors(`G21\n${code}\nM2`).map((d) => d.code)).not.toContain('nc/unknown-code');
  });
});

describe('appendix C.1, the program that writes hello', () => {
  const reading = readProgram(['(start)', 'g21 g0 x0 y0 z50', ...samples.hello].join('\n'));
  // The report's lengths count from (0, 0, 50), where the first line stays.
  const moves = motions(reading.moves).slice(1);
  const arcs = moves.filter((m) => m.kind === 'arc');
  it('is read without a complaint', () => expect(reading.diagnostics).toEqual([]));
  it('has 59 moves: 34 at feed and 25 rapids', () => {
    expect(moves).toHaveLength(59);
    expect(moves.filter((m) => m.kind === 'rapid')).toHaveLength(25);
  });
  it('is as long as it was reckoned to be', () => {
    const feeds = moves.filter((m) => m.kind !== 'rapid');
    const sum = (list: readonly NcMotion[]) => list.reduce((l, m) => l + moveLength(m), 0);
    expect(sum(feeds)).toBeCloseTo(183.430466, 6);
    expect(sum(feeds.filter((m) => m.to.z === m.from.z))).toBeCloseTo(153.430466, 6);
    expect(sum(moves.filter((m) => m.kind === 'rapid'))).toBeCloseTo(202.052801, 6);
    expect(arcs.map((m) => +moveLength(m).toFixed(6))).toEqual([
      11.780972, 15.707963, 15.707963, 5.401052, 7.853982,
    ]);
    expect(arcs[3]).toMatchObject({ centre: { x: 66.5, y: expect.closeTo(0.877501, 6) } });
  });
  it('stays in its box', () => {
    expect(Math.max(...moves.map((m) => m.to.x))).toBe(81);
    expect(Math.max(...moves.map((m) => m.to.y))).toBe(10);
    expect(Math.min(...moves.map((m) => Math.min(m.to.x, m.to.y)))).toBe(0);
  });
  it('turns the spindle at 4000 with tool 1 and feeds 20', () => {
    expect(moves.at(-1)).toMatchObject({ spindle: 4000, tool: 1 });
    expect(arcs.every((m) => m.feed === 20)).toBe(true);
  });
});

describe('Tables 12 and 13', () => {
  /** The closed curve after the two entry moves, read without compensation. */
  const curve = (name: 'materialEdge' | 'nominalPath', entry: number) => {
    const text = samples[name].map((l) => l.replace(/G4[01] ?/, '')).filter((l) => /[XYZ]/.test(l));
    const { moves, diagnostics } = readProgram(`G21\nF1 G0 X0 Y0 Z0\n${text.join('\n')}\nM2`);
    expect(diagnostics.filter((d) => d.level === 'error')).toEqual([]);
    const path = motions(moves).slice(1 + entry);
    const area = path.reduce((a, m) => {
      const sector =
        m.kind === 'arc'
          ? (Math.hypot(m.from.x - m.centre.x, m.from.y - m.centre.y) ** 2 * (m.sweep - Math.sin(m.sweep))) /
            2
          : 0;
      return a + (m.from.x * m.to.y - m.to.x * m.from.y) / 2 + sector;
    }, 0);
    return { length: path.reduce((l, m) => l + moveLength(m), 0), area: Math.abs(area), path };
  };
  it('Table 12 is the part, Table 13 the path of a cutter of 1.0 round it', () => {
    const part = curve('materialEdge', 3);
    const path = curve('nominalPath', 3);
    expect(part.length).toBeCloseTo(18.283185, 6);
    expect(part.area).toBeCloseTo(21.141593, 6);
    expect(path.length).toBeCloseTo(21.424778, 6);
    expect(path.area).toBeCloseTo(31.068583, 6);
    // Steiner: P + 2πd and A + Pd + πd².
    expect(part.length + Math.PI).toBeCloseTo(path.length, 9);
    expect(part.area + part.length / 2 + Math.PI / 4).toBeCloseTo(path.area, 9);
  });
  it('are refused as they stand: compensation hangs on a diameter set at the control', () =>
    expect(
      errors(`G21\nF1 G0 X0 Y0 Z0\n${samples.materialEdge.join('\n')}\nM2`).map((d) => d.code),
    ).toContain('nc/refused-code'));
});
