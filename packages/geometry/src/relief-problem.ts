const mm = (v: number): string => `${Math.round(v * 1000) / 1000} mm`;
const degrees = (v: number): string => `${Math.round((v * 1800) / Math.PI) / 10}°`;

/** All sentences in which a relief is refused; whoever shows them adds the place. */
export const reliefProblem = {
  noInsideCorner: (turn: number) =>
    `the sides turn by ${degrees(turn)} towards the air here, so that there is no inside corner to relieve`,
  guideTooHollow: (radius: number) =>
    `the guiding wall is hollower than the cutter of radius ${mm(radius)}, which would cut it`,
  noCorner: () => 'the ring has no corner here',
  twice: () => 'two reliefs are wanted for this corner',
  notReached: (radius: number) => `the relief disc of radius ${mm(radius)} does not reach the corner`,
  swallowsWall: (radius: number, length: number) =>
    `the relief disc of radius ${mm(radius)} swallows the whole side of ${mm(length)}`,
  overlap: () => 'two relief discs overlap; a smaller cutter or the other wall may help',
  cutsElsewhere: (radius: number) =>
    `the relief disc of radius ${mm(radius)} cuts another side of the ring as well`,
};
