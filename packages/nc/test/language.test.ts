import { describe, expect, it } from 'vitest';
import { moveLength } from '../src/read/move-length.js';
import type { NcArc, NcMotion, NcMove } from '../src/read/nc-reading.js';
import { type ReadProgramOptions, readProgram } from '../src/read/read-program.js';
import transcript from './nistir-6556/transcript.json' with { type: 'json' };

// Worked cases of NISTIR 6556, The NIST RS274/NGC Interpreter, Version 3 (2000), and what follows from its rules.

const motions = (moves: readonly NcMove[]): NcMotion[] =>
  moves.filter((m): m is NcMotion => m.kind === 'rapid' || m.kind === 'linear' || m.kind === 'arc');
const codes = (text: string) => readProgram(text).diagnostics.map((d) => d.code);

/** The motions after `G21 G90 G94 F100` and a rapid to a place; no diagnostic allowed. */
function after(x: number, y: number, z: number, ...lines: string[]): NcMotion[] {
  const { moves, diagnostics } = readProgram(
    `G21 G90 G94\nF100 G0 X${x} Y${y} Z${z}\n${lines.join('\n')}\nM2\n`,
  );
  expect(diagnostics.filter((d) => d.code !== 'nc/arc-radius-form')).toEqual([]);
  return motions(moves).slice(1);
}
const ends = (moves: readonly NcMotion[]) =>
  moves.map((m) => [m.kind, ...[m.to.x, m.to.y, m.to.z].map((v) => Math.round(v * 1e9) / 1e9)].join(' '));
const degrees = (m: NcMotion) => (((m as NcArc).sweep ?? 0) * 180) / Math.PI;

describe('arcs (3.5.3)', () => {
  it.each([
    ['G2 X10 Y15 R20', 19.855069, -2.403379, -53.576426, 18.701701],
    ['G2 X10 Y15 R-20', -9.855069, 17.403379, -306.423574, 106.962005],
    ['G3 X10 Y15 R20', -9.855069, 17.403379, 53.576426, 18.701701],
  ])('radius form: %s', (line, x, y, sweep, length) => {
    const [arc] = after(0, 0, 0, line) as [NcArc];
    expect(arc.centre.x).toBeCloseTo(x, 6);
    expect(arc.centre.y).toBeCloseTo(y, 6);
    expect(degrees(arc)).toBeCloseTo(sweep, 6);
    expect(moveLength(arc)).toBeCloseTo(length, 6);
  });
  it.each([
    ['G2 X10 Y16 I3 J4', 9, -143.130102, 12.490458],
    ['G2 X10 Y16 I3 J4 Z9', 6, -143.130102, 12.845682],
    ['G3 X10 Y16 I3 J4', 9, 216.869898, 18.925469],
  ])('centre form: %s', (line, z, sweep, length) => {
    const [arc] = after(7, 7, z, line) as [NcArc];
    expect(arc.centre).toEqual({ x: 10, y: 11 });
    expect(degrees(arc)).toBeCloseTo(sweep, 6);
    expect(moveLength(arc)).toBeCloseTo(length, 6);
  });
  it('an arc that does not meet its end is named with both radii, and the reading goes on at its end', () => {
    const { moves, diagnostics } = readProgram('G21\nF1 G0 X0 Y0 Z0\nG2 X10.01 Y0 I5 J0\nG1 X11\nM2');
    expect(diagnostics).toHaveLength(1);
    expect(diagnostics[0]).toMatchObject({ code: 'nc/arc-radius', locus: { line: 3 } });
    expect(diagnostics[0]!.message).toMatch(/radius 5 mm .* radius 5\.01 mm/);
    expect(ends(motions(moves).slice(1))).toEqual(['arc 10 0 0', 'linear 10.01 0 0', 'linear 11 0 0']);
  });
  it('G18 and G19 turn as seen from +Y and +X', () => {
    const [zx] = after(1, 0, 0, 'G18 G3 X0 Z-1 I-1 K0') as [NcArc];
    // From +Y, x is left of z: z to the right, x up. Counter-clockwise from x leads to −z.
    expect(zx).toMatchObject({ plane: 'zx', centre: { x: 0, y: 0 }, turn: 'ccw' });
    expect(degrees(zx)).toBeCloseTo(90, 9);
    const [yz] = after(0, 1, 0, 'G19 G3 Y0 Z1 J-1 K0') as [NcArc];
    expect(yz).toMatchObject({ plane: 'yz', centre: { x: 0, y: 0 } });
    expect(degrees(yz)).toBeCloseTo(90, 9);
  });
  it('a radius of nearly half a turn is warned of', () =>
    expect(codes('G21\nF1 G0 X0 Y0 Z0\nG2 X10 R5.001\nM2')).toEqual(['nc/arc-radius-form']));
  it.each([
    ['ends where it starts', 'G2 X0 Y0 R5'],
    ['cannot reach its end', 'G2 X10 R4.9'],
    ['has no radius', 'G2 X1 I0 J0'],
    ['has a radius and a centre', 'G2 X10 I5 R5'],
  ])('an arc that %s is refused', (_, line) =>
    expect(codes(`G21\nF1 G0 X0 Y0 Z0\n${line}\nM2`)).toEqual(['nc/bad-arc']),
  );
  it('an arc from an unknown place is refused', () =>
    expect(codes('G21\nF1 G2 X10 Y0 I5 J0\nM2')).toEqual(['nc/arc-from-unknown-place']));
});

describe('the keyboard session of Table 10', () => {
  const lengths = new Map([[2, 1]]);
  const start = 'G21 G90\nG0 X0 Y0 Z0\n';
  it('draws the helix', () => {
    const { moves } = readProgram(`${start}g1 x3 y1 f20.0\ng2 x[6-[4*3/2]] r 7.01 z0.5\nm2`);
    const arc = motions(moves)[2] as NcArc;
    expect(arc.centre.y).toBeCloseTo(transcript.checks.centre_y_exact, 12);
    expect(arc.centre.x).toBeCloseTo(1.5, 12);
    expect(-degrees(arc)).toBeCloseTo(transcript.checks.sweep_deg, 6);
    expect(moveLength(arc)).toBeCloseTo(transcript.checks.helix_length, 6);
    expect(arc.feed).toBe(20);
  });
  it('changes the tool, takes its length, drills two holes', () => {
    const { moves, diagnostics } = readProgram(
      `${start}g1 x3 y1 f20.0\ng2 x[6-[4*3/2]] r 7.01 z0.5\n(that was a helical arc)\nt2\nm6 g43 h2\ng1 x asin[0.5]\n` +
        'g91 g81 x3 y2 z-0.8 r1.5 l2\nm2',
      { toolLengths: lengths },
    );
    expect(diagnostics).toEqual([]);
    expect(moves[3]).toEqual({ kind: 'tool-change', line: 7, tool: 2 });
    expect(ends(motions(moves).slice(3))).toEqual([
      'linear 30 1 -0.5',
      'rapid 30 1 1',
      'rapid 33 3 1',
      'linear 33 3 0.2',
      'rapid 33 3 1',
      'rapid 36 5 1',
      'linear 36 5 0.2',
      'rapid 36 5 1',
    ]);
  });
  it('refuses an unknown function', () =>
    expect(codes(`${start}G1 F1 x asim[0.5]\nm2`)).toEqual(['nc/bad-value']));
});

describe('canned cycles (3.5.16)', () => {
  it('worked case 1: the clear height is where the cycle started', () =>
    expect(ends(after(1, 2, 3, 'G90 G81 G98 X4 Y5 Z1.5 R2.8'))).toEqual([
      'rapid 4 5 3',
      'rapid 4 5 2.8',
      'linear 4 5 1.5',
      'rapid 4 5 3',
    ]));
  it('worked case 2: incremental, three holes', () => {
    const moves = after(1, 2, 3, 'G91 G81 G98 X4 Y5 Z-0.6 R1.8 L3');
    expect(ends(moves)).toEqual([
      'rapid 1 2 4.8',
      ...[
        [5, 7],
        [9, 12],
        [13, 17],
      ].flatMap(([x, y]) => [`rapid ${x} ${y} 4.8`, `linear ${x} ${y} 4.2`, `rapid ${x} ${y} 4.8`]),
    ]);
  });
  it('Z and R stick to the next hole, G99 returns to R', () =>
    expect(ends(after(0, 0, 10, 'G99 G81 X1 Y1 Z-2 R1', 'X2'))).toEqual([
      'rapid 1 1 10',
      'rapid 1 1 1',
      'linear 1 1 -2',
      'rapid 1 1 1',
      'rapid 2 1 1',
      'linear 2 1 -2',
      'rapid 2 1 1',
    ]));
  it('G82 dwells at the bottom', () => {
    const { moves } = readProgram('G21\nF1 G0 X0 Y0 Z5\nG82 X1 Z-1 R1 P0.5\nM2');
    expect(moves.map((m) => m.kind)).toEqual(['rapid', 'rapid', 'rapid', 'linear', 'dwell', 'rapid']);
    expect(moves[4]).toMatchObject({ seconds: 0.5 });
  });
  it('G83 pecks no deeper than Q at a time and comes out to R between', () =>
    expect(ends(after(0, 0, 5, 'G99 G83 X0 Z-5 R1 Q2.5'))).toEqual([
      'rapid 0 0 1',
      'linear 0 0 -1.5',
      'rapid 0 0 1',
      'rapid 0 0 -1.246',
      'linear 0 0 -4',
      'rapid 0 0 1',
      'rapid 0 0 -3.746',
      'linear 0 0 -5',
      'rapid 0 0 1',
    ]));
  it('G80 ends the cycle; words alone are then refused', () =>
    expect(codes('G21\nF1 G0 X0 Y0 Z5\nG81 X1 Z-1 R1\nG80\nX2\nM2')).toEqual(['nc/no-motion-mode']));
  it.each(['G84', 'G87', 'G88', 'G38.2'])('%s is refused by a sentence', (code) =>
    expect(
      codes(
        `G21\nF1 G0 X0 Y0 Z5\n${code} X1 Z-1${code === 'G38.2' ? '' : ' R1'}${code === 'G88' ? ' P1' : ''}\nM2`,
      ),
    ).toEqual(['nc/refused-code']),
  );
});

describe('offsets', () => {
  it('G92 (worked): at X4, G92 X7 makes #5211 −3, then G92 X9 makes it −5; the frame of the moves stays', () => {
    const moves = after(4, 0, 0, 'G92 X7', 'G0 X8 Y#5211', 'X7', 'G92 X9', 'X9 Y#5211', 'G92.1', 'X4');
    expect(moves.map((m) => [m.to.x, m.to.y])).toEqual([
      [5, -3],
      [4, -3],
      [4, -5],
      [4, -5],
    ]);
  });
  it('G92.2 takes the offset away, G92.3 brings it back', () =>
    expect(after(4, 0, 0, 'G92 X7', 'G92.2', 'G0 X1', 'G92.3', 'X1').map((m) => m.to.x)).toEqual([1, -2]));
  it('G92 at the start names the place where the cutter stands', () => {
    const { moves, diagnostics } = readProgram('G21\nG92 X0 Y0 Z5\nG0 X10\nM2');
    expect(diagnostics).toEqual([]);
    expect(moves[0]).toMatchObject({ from: { x: 0, y: 0, z: 5 }, fromKnown: { x: true, y: true, z: true } });
  });
  it('another coordinate system is followed when the text sets both origins, else refused', () => {
    const { moves, diagnostics } = readProgram(
      'G21\nG10 L2 P1 X100 Y0 Z0\nG10 L2 P2 X130 Y5 Z0\nG54 G0 X1 Y1 Z1\nG55 X1 Y1 Z1\nM2',
    );
    expect(diagnostics).toEqual([]);
    expect(motions(moves).map((m) => m.to)).toEqual([
      { x: 1, y: 1, z: 1 },
      { x: 31, y: 6, z: 1 },
    ]);
    expect(codes('G21\nG54 G0 X1 Y1\nG55 X1\nM2')).toEqual(['nc/unknown-origin']);
    expect(codes('G21\nG55 G0 X1 Y1 Z1\nX2\nM2')).toEqual([]);
  });
  it('G53 leaves the place unknown, and says so once', () => {
    const { moves, diagnostics } = readProgram('G21 G0 X1 Y1 Z5\nG53 G0 Z0\nG53 X0\nG0 X2 Y2\nM2');
    expect(diagnostics.map((d) => d.code)).toEqual(['nc/machine-coordinates']);
    expect(motions(moves).map((m) => [m.toKnown.x, m.toKnown.y, m.toKnown.z])).toEqual([
      [true, true, true],
      [true, true, false],
      [false, true, false],
      [true, true, false],
    ]);
  });
  it('G28 goes by way of the given place', () => {
    const { moves } = readProgram('G21 G0 X1 Y1 Z5\nG28 Z9\nM2');
    expect(motions(moves).map((m) => m.to.z)).toEqual([5, 9, 9]);
    expect(motions(moves)[2]!.toKnown).toEqual({ x: false, y: false, z: false });
  });
  it('G43 makes Z unknown until it is stated anew', () => {
    const { moves } = readProgram('G21 G0 X1 Y1 Z5\nG43 H1\nG0 X2\nZ5\nM2');
    expect(motions(moves).map((m) => m.toKnown.z)).toEqual([true, false, true]);
  });
});

describe('order of execution (Table 8)', () => {
  it('the spindle starts before the move of its line and stops before it', () => {
    const { moves } = readProgram('G21\nF1 S1000\nG0 X1 M3\nG1 X2 M5\nM2');
    expect(motions(moves).map((m) => m.spindle)).toEqual([1000, 0]);
  });
  it('a tool change stops the spindle before M3 starts it', () => {
    const { moves } = readProgram('G21\nG0 X1 M3 S9 T4 M6\nM2');
    expect(moves[0]).toEqual({ kind: 'tool-change', line: 2, tool: 4 });
    expect(moves[1]).toMatchObject({ spindle: 9, tool: 4 });
  });
  it('F counts in the unit before G20 on its line, and that is warned of', () => {
    const { moves, diagnostics } = readProgram('G21 G0 X0 Y0 Z0\nG20 G1 X1 F10\nX2 F10\nM2');
    expect(motions(moves).map((m) => m.feed)).toEqual([null, 10, 254]);
    expect(motions(moves)[1]!.to.x).toBeCloseTo(25.4, 12);
    expect(diagnostics.map((d) => d.code)).toEqual(['nc/feed-before-units']);
  });
  it('units before distance mode before G92 before motion', () =>
    expect(after(25.4, 0, 0, 'G91 G20 G0 X1').map((m) => m.to.x)).toEqual([50.8]));
  it('a parameter set on a line counts from the next line on', () =>
    expect(after(0, 0, 0, '#3=15', '#3=6 G1 x#3', 'x#3').map((m) => m.to.x)).toEqual([15, 6]));
  it('words may stand in any order', () => {
    const words = ['G3', 'X2', 'Y2', 'I-1', 'J1', 'F30'];
    const [first] = after(2, 0, 0, words.join(''));
    for (let i = 0; i < words.length; i++)
      expect(after(2, 0, 0, [...words.slice(i), ...words.slice(0, i)].join(' '))).toEqual([first]);
  });
});

describe('feeds and places', () => {
  it('G93 gives each move its time', () => {
    const [line, arc] = after(0, 0, 0, 'G93 G1 X10 F2', 'G3 X20 I5 F4');
    expect(line!.feed).toBe(20);
    expect(arc!.feed).toBeCloseTo(4 * 5 * Math.PI, 12);
  });
  it('after G93 a feed must be given anew', () =>
    expect(codes('G21 G0 X0 Y0 Z0\nG93 G1 X1 F2\nG94 G1 X2\nM2')).toEqual(['nc/no-feed']));
  it('the place before the first move is unknown, axis by axis', () => {
    const { moves } = readProgram('G21 G0 Z5\nX1\nY2 Z3\nM2');
    expect(motions(moves).map((m) => Object.values(m.fromKnown))).toEqual([
      [false, false, false],
      [false, false, true],
      [true, false, true],
    ]);
    expect(motions(moves)[2]!.from).toEqual({ x: 1, y: 2, z: 5 });
  });
  it('inches are read as millimetres', () => {
    const { moves, unitSeen } = readProgram('G20\nG0 X1 Y-0.5 Z.25\nM2');
    expect(motions(moves)[0]!.to).toEqual({ x: 25.4, y: -12.7, z: 6.35 });
    expect(unitSeen).toBe(true);
  });
  it('without a unit millimetres are taken, with a warning', () => {
    const reading = readProgram('G0 X1\nM2');
    expect(reading.unitSeen).toBe(false);
    expect(reading.diagnostics.map((d) => d.code)).toEqual(['nc/no-unit']);
  });
  it('lines with a slash are carried out and warned of once', () => {
    const { moves, diagnostics } = readProgram('G21\n/G0 X1\n/ G0 X2\nM2');
    expect(moves).toHaveLength(2);
    expect(diagnostics.map((d) => [d.code, d.locus.line])).toEqual([['nc/block-delete', 2]]);
  });
  it('stops and dwells are moves too', () => {
    const options: ReadProgramOptions = { file: 'a.ngc' };
    const { moves, blocks } = readProgram('G21\n(note)\n\nG4 P2.5\nM0\nM1 (wait)\nM30', options);
    expect(moves).toEqual([
      { kind: 'dwell', line: 4, seconds: 2.5, spindle: 0, tool: null },
      { kind: 'stop', line: 5, code: 'M0' },
      { kind: 'stop', line: 6, code: 'M1' },
    ]);
    expect(blocks).toBe(5);
  });
});
