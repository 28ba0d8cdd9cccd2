import type { Dialect, Move, Place, PostProcessor } from '@haunch/model';

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
  const implied = d.words?.implied;
  if (implied && !isWhole(implied.whole, 1, 6))
    bad(`${implied.whole} digits before the point; 1 to 6 are possible`);
  const n = d.lineNumbers;
  if (n && (!isWhole(n.start, 0, 99_999) || !isWhole(n.step, 1, 99_999)))
    bad(`line numbers from ${n.start} by ${n.step} are not possible`);
}

/** No machine for sheets reaches this far, mm; beyond it steps would no longer be whole numbers. */
const REACH = 1e6;

/** A place of finite figures within reach. */
const isNear = (to: Place): boolean =>
  to.x >= -REACH && to.x <= REACH && to.y >= -REACH && to.y <= REACH && to.z >= -REACH && to.z <= REACH;

/** What is wrong with a move; null when nothing is. */
function faultOf(m: Move): string | null {
  switch (m.kind) {
    case 'rapid':
      return isNear(m.to) ? null : placeFault(m.to);
    case 'circular':
      if (!Number.isFinite(m.centre.x) || !Number.isFinite(m.centre.y))
        return `a centre of ${m.centre.x}, ${m.centre.y} is not finite`;
      return isNear(m.to) ? feedFault(m.feed) : placeFault(m.to);
    case 'linear':
      return isNear(m.to) ? feedFault(m.feed) : placeFault(m.to);
    case 'dwell':
      return m.seconds >= 0 && m.seconds < Infinity ? null : `a dwell of ${m.seconds} s`;
    case 'spindle':
      return Number.isFinite(m.rpm) ? null : `${m.rpm} is not finite`;
    case 'cutter':
      return isWhole(m.number, 1, 99_999) ? null : `cutter number ${m.number}`;
    case 'offset':
      if (!isWhole(m.code, 54, 59)) return `work offset G${m.code}`;
      return Number.isFinite(m.z) ? null : `${m.z} is not finite`;
    case 'note':
    case 'pause':
      return null;
  }
}

const placeFault = ({ x, y, z }: Place): string =>
  [x, y, z].every(Number.isFinite) ? 'too far away' : `a place of ${x}, ${y}, ${z} is not finite`;
const feedFault = (feed: number): string | null =>
  feed > 0 && feed < Infinity ? null : `feed ${feed} must be positive and finite`;

/**
 * @throws RangeError when a move holds a number that is not finite, a feed that is not positive, a negative dwell,
 * a cutter number that is not a whole number from 1, a work offset other than G54 to G59, or a place more than a kilometre away.
 */
export function assertMove(m: Move, index: number): void {
  const fault = faultOf(m);
  if (fault !== null) throw new RangeError(`writeProgram: move ${index} (${m.kind}, ${m.from}): ${fault}`);
}
