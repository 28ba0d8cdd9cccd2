import type { Move, Place, Toolpath } from '@haunch/model';
import fc from 'fast-check';

const grid = (v: number): number => Math.round(v * 10_000) / 10_000 + 0;
const coordinate = fc.integer({ min: -25_000_000, max: 25_000_000 }).map((n) => n / 10_000);
const height = fc.integer({ min: -300_000, max: 500_000 }).map((n) => n / 10_000);
const feed = fc.integer({ min: 1, max: 120_000 }).map((n) => n / 10);
const radius = fc.oneof(
  fc.double({ min: 0.0003, max: 0.05, noNaN: true }),
  fc.double({ min: 0.05, max: 60, noNaN: true }),
  fc.constantFrom(3130, 4010),
);
const sweep = fc.oneof(
  fc.double({ min: 1e-6, max: 0.01, noNaN: true }),
  fc.double({ min: 0.01, max: 6.28, noNaN: true }),
  fc.constantFrom(Math.PI / 2, Math.PI, 1.5 * Math.PI, 2 * Math.PI, 2 * Math.PI - 1e-5, 2 * Math.PI - 1e-3),
);

type Step =
  | { kind: 'rapid'; to: Place }
  | { kind: 'linear'; to: Place; feed: number }
  | { kind: 'arc'; r: number; angle: number; sweep: number; ccw: boolean; rise: number; feed: number }
  | { kind: 'dwell'; seconds: number }
  | { kind: 'spindle'; rpm: number }
  | { kind: 'cutter'; number: number }
  | { kind: 'note'; text: string };

const place = fc.record({ x: coordinate, y: coordinate, z: height });
const step: fc.Arbitrary<Step> = fc.oneof(
  { weight: 2, arbitrary: fc.record({ kind: fc.constant('rapid' as const), to: place }) },
  { weight: 3, arbitrary: fc.record({ kind: fc.constant('linear' as const), to: place, feed }) },
  {
    weight: 6,
    arbitrary: fc.record({
      kind: fc.constant('arc' as const),
      r: radius,
      angle: fc.double({ min: -4, max: 4, noNaN: true }),
      sweep,
      ccw: fc.boolean(),
      rise: fc.oneof(fc.constant(0), height),
      feed,
    }),
  },
  fc.record({
    kind: fc.constant('dwell' as const),
    seconds: fc.integer({ min: 0, max: 100 }).map((n) => n / 10),
  }),
  fc.record({ kind: fc.constant('spindle' as const), rpm: fc.integer({ min: 0, max: 24_000 }) }),
  fc.record({ kind: fc.constant('cutter' as const), number: fc.integer({ min: 1, max: 20 }) }),
  fc.record({ kind: fc.constant('note' as const), text: fc.string() }),
);

const from = 'sheet-1/001 A.outline';

/** Moves on the 0.0001 mm grid as a planner would make them; a rapid comes first and after each change of cutter. */
export const toolpath: fc.Arbitrary<Toolpath> = fc
  .record({ first: place, steps: fc.array(step, { maxLength: 25 }) })
  .map(({ first, steps }) => {
    const moves: Move[] = [{ kind: 'rapid', to: first, from }];
    let at = first;
    for (const s of steps) {
      if (s.kind === 'arc') {
        const centre = { x: grid(at.x - s.r * Math.cos(s.angle)), y: grid(at.y - s.r * Math.sin(s.angle)) };
        // The radius that the rounded centre really has, so that only the end's rounding is left.
        const r = Math.hypot(at.x - centre.x, at.y - centre.y);
        const a = Math.atan2(at.y - centre.y, at.x - centre.x) + (s.ccw ? s.sweep : -s.sweep);
        const full = s.sweep === 2 * Math.PI;
        const to = {
          x: full ? at.x : grid(centre.x + r * Math.cos(a)),
          y: full ? at.y : grid(centre.y + r * Math.sin(a)),
          z: grid(at.z + s.rise),
        };
        if (r === 0 || (!full && to.x === at.x && to.y === at.y)) continue;
        moves.push({ kind: 'circular', to, centre, turn: s.ccw ? 'ccw' : 'cw', feed: s.feed, from });
        at = to;
      } else if (s.kind === 'cutter') {
        moves.push({ kind: 'cutter', number: s.number, id: `c${s.number}`, from });
        moves.push({ kind: 'rapid', to: at, from });
      } else {
        moves.push({ ...s, from });
        if ('to' in s) at = s.to;
      }
    }
    return { kind: 'toolpath', board: 'sheet-1', moves };
  });
