import { expect, it } from 'vitest';
import type { NcMove } from '../src/read/nc-reading.js';
import { readProgram } from '../src/read/read-program.js';
import table from './nistir-6556/order.json' with { type: 'json' };

// NISTIR 6556, Table 8: whatever the order of the words on a line, these are carried out in this order. What a reading can show of
// it is shown with the words written the other way round; of coolant, overrides and path control, which move nothing, only that a line
// is read in either order.

const read = (line: string): NcMove[] => {
  const { moves, diagnostics } = readProgram(`G21 G90 G94 G17 G98\nF100 S500 G0 X0 Y0 Z10\n${line}\nM2\n`, {
    toolLengths: new Map([[1, 4]]),
  });
  expect(diagnostics.filter((d) => d.level === 'error')).toEqual([]);
  return moves.slice(1);
};

/** A line in which the later step is written first; which two steps it tells apart; what must come of it. */
const CASES: readonly (readonly [
  earlier: string,
  later: string,
  line: string,
  expected: readonly object[],
])[] = [
  ['comment', 'feed mode', 'G1 X1 F50 (a note) G94', [{ kind: 'linear', feed: 50 }]],
  // 10 mm in 1/2 minute.
  ['feed mode', 'F', 'F2 G1 X10 G93', [{ kind: 'linear', feed: 20 }]],
  ['F', 'motion', 'G1 X1 F70', [{ kind: 'linear', feed: 70 }]],
  ['S', 'M3 M4 M5', 'M3 G1 X1 S900', [{ kind: 'linear', spindle: 900 }]],
  ['T', 'M6', 'M6 T7', [{ kind: 'tool-change', tool: 7 }]],
  // A change of tool stops the spindle; M3 starts it anew after that.
  ['M6', 'M3 M4 M5', 'G1 X1 M3 M6 T7', [{ kind: 'tool-change' }, { kind: 'linear', spindle: 500, tool: 7 }]],
  ['M3 M4 M5', 'M7 M8 M9', 'M8 M3 G1 X1', [{ kind: 'linear', spindle: 500 }]],
  ['M7 M8 M9', 'M48 M49', 'M48 M9 G1 X1', [{ kind: 'linear' }]],
  ['M48 M49', 'G4', 'G4 P1 M49', [{ kind: 'dwell', seconds: 1 }]],
  ['M3 M4 M5', 'G4', 'G4 P1 M3', [{ kind: 'dwell', spindle: 500 }]],
  ['G4', 'motion', 'G1 X1 G4 P2', [{ kind: 'dwell', seconds: 2 }, { kind: 'linear' }]],
  ['plane', 'motion', 'G2 X1 Z10 I0.5 K0 G18', [{ kind: 'arc', plane: 'zx' }]],
  ['units', 'motion', 'G1 X1 G20', [{ kind: 'linear', to: { x: 25.4 } }]],
  ['compensation', 'motion', 'G1 X1 G40', [{ kind: 'linear', to: { x: 1 } }]],
  ['length offset', 'motion', 'G1 Z-1 H1 G43 G91', [{ kind: 'linear', to: { z: 5 } }]],
  ['coordinate system', 'motion', 'G1 X1 G54', [{ kind: 'linear', to: { x: 1 } }]],
  ['path control', 'motion', 'G1 X1 G61', [{ kind: 'linear', to: { x: 1 } }]],
  ['units', 'distance mode', 'G1 X1 G91 G20', [{ kind: 'linear', to: { x: 25.4 } }]],
  [
    'return mode',
    'motion',
    'G81 X1 Y1 Z-1 R2 G99',
    [{ kind: 'rapid' }, { kind: 'rapid' }, { kind: 'linear' }, { kind: 'rapid', to: { z: 2 } }],
  ],
  ['G28 G30 G10 G92', 'motion', 'G10 L2 P2 X5\nG1 X1', [{ kind: 'linear', to: { x: 1 } }]],
  ['motion', 'M0 M1 M2 M30 M60', 'M0 G1 X1', [{ kind: 'linear' }, { kind: 'stop', code: 'M0' }]],
];

it.each(CASES)('%s comes before %s: %s', (_, __, line, expected) =>
  expect(read(line)).toMatchObject(expected as object[]),
);

it('every step of the table is told apart from another', () => {
  const told = new Set(CASES.flatMap((c) => c.slice(0, 2)));
  expect(table.order.filter((step) => !told.has(step))).toEqual([]);
  for (const [a, b] of CASES) expect(table.order.indexOf(a)).toBeLessThan(table.order.indexOf(b));
});
