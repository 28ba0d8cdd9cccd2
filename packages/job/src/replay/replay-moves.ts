import type { TimedStretch } from '@haunch/proof';

/**
 * A motion as the replay's page reads it: end x, y, z, line, hundredths of a second when it is done, kind (0 travel,
 * 1 straight, 2 arc), radius of the cutter, and of an arc its centre and sweep. mm, radians.
 */
export type ReplayMove = readonly number[];

const fine = (v: number): number => Math.round(v * 1e3) / 1e3;

/** The motions of a timeline in the page's shape; the place where the first one starts comes first, alone. */
export function replayMoves(timed: readonly TimedStretch[]): {
  readonly start: readonly [number, number, number];
  readonly moves: readonly ReplayMove[];
} {
  const first = timed[0]?.stretch.from ?? { x: 0, y: 0, z: 0 };
  return {
    start: [fine(first.x), fine(first.y), fine(first.z)],
    moves: timed.map(({ stretch: s, until }) => {
      const arc = s.centre !== null && s.sweep !== 0;
      return [
        fine(s.to.x),
        fine(s.to.y),
        fine(s.to.z),
        s.line,
        Math.round(until * 100),
        s.kind === 'rapid' ? 0 : arc ? 2 : 1,
        fine(s.radius),
        ...(arc ? [fine(s.centre!.x), fine(s.centre!.y), Math.round(s.sweep * 1e5) / 1e5] : []),
      ];
    }),
  };
}
