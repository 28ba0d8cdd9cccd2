import type { Dialect, Move, PostProcessor, Toolpath } from '@haunch/model';

const isWhole = (v: number, least: number, most: number): boolean =>
  Number.isInteger(v) && v >= least && v <= most;

/**
 * @throws TypeError when the post is not of contract 1; RangeError when its dialect's figures make no sense.
 */
export function assertPost(post: PostProcessor): void {
  if (post.contract !== 1)
    throw new TypeError(`writeProgram: post ${post.name} has contract ${post.contract}, not 1`);
  const d: Dialect = post.dialect;
  const bad = (what: string): never => {
    throw new RangeError(`writeProgram: dialect ${d.name}: ${what}`);
  };
  if (!isWhole(d.decimals, 0, 6)) bad(`${d.decimals} decimals; 0 to 6 are possible`);
  if (!isWhole(d.feedDecimals, 0, 6)) bad(`${d.feedDecimals} feed decimals; 0 to 6 are possible`);
  if (!(d.arcs.greatestSweep > 0)) bad(`greatest sweep ${d.arcs.greatestSweep} must be positive`);
  if (!(d.arcs.chordTolerance > 0)) bad(`chord tolerance ${d.arcs.chordTolerance} must be positive`);
  if (!isWhole(d.blockLength, 1, 100_000)) bad(`block length ${d.blockLength} must be a whole number from 1`);
  const n = d.lineNumbers;
  if (n && (!isWhole(n.start, 0, 99_999) || !isWhole(n.step, 1, 99_999)))
    bad(`line numbers from ${n.start} by ${n.step} are not possible`);
}

/** The figures of a move that must be finite. */
function figures(m: Move): readonly number[] {
  switch (m.kind) {
    case 'rapid':
      return [m.to.x, m.to.y, m.to.z];
    case 'linear':
      return [m.to.x, m.to.y, m.to.z, m.feed];
    case 'circular':
      return [m.to.x, m.to.y, m.to.z, m.centre.x, m.centre.y, m.feed];
    case 'dwell':
      return [m.seconds];
    case 'spindle':
      return [m.rpm];
    case 'cutter':
      return [m.number];
    case 'offset':
      return [m.code, m.z];
    case 'note':
    case 'pause':
      return [];
  }
}

/** No machine for sheets reaches this far, mm; beyond it steps would no longer be whole numbers. */
const REACH = 1e6;

/**
 * @throws RangeError when a move holds a number that is not finite, a feed that is not positive, a negative dwell,
 * a cutter number that is not a whole number from 1, a work offset other than G54 to G59, or a place more than a kilometre away.
 */
export function assertToolpath(toolpath: Toolpath): void {
  toolpath.moves.forEach((m, i) => {
    const bad = (what: string): never => {
      throw new RangeError(`writeProgram: move ${i} (${m.kind}, ${m.from}): ${what}`);
    };
    for (const v of figures(m)) if (!Number.isFinite(v)) bad(`${v} is not finite`);
    if ('to' in m && Math.max(Math.abs(m.to.x), Math.abs(m.to.y), Math.abs(m.to.z)) > REACH)
      bad('too far away');
    if ('feed' in m && m.feed <= 0) bad(`feed ${m.feed} must be positive`);
    if (m.kind === 'dwell' && m.seconds < 0) bad(`a dwell of ${m.seconds} s`);
    if (m.kind === 'offset' && !isWhole(m.code, 54, 59)) bad(`work offset G${m.code}`);
    if (m.kind === 'cutter' && !isWhole(m.number, 1, 99_999)) bad(`cutter number ${m.number}`);
  });
}
