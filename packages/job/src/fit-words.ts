import type { JointAim } from './job-allowances.js';
import type { JobLadder } from './ladder-of-job.js';

const mm = (n: number): string => n.toFixed(3);
const list = (names: readonly string[]): string =>
  names.length < 2 ? (names[0] ?? '') : `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`;

/** What the clearances rest on, a sentence for each ladder. */
export const ladderWords = (ladders: readonly JobLadder[]): string =>
  ladders
    .map((l) => {
      if (l.kind === 'without')
        return `Cut without a ladder${l.material === null ? '' : ` in ${l.material}`}: ${l.reason}`;
      const { reading, measured, board, material } = l;
      const size = measured
        ? `; the cutter measured ${mm(measured.diameter)} ± ${mm(2 * measured.u)} mm`
        : '';
      const floor =
        l.deeper === 0
          ? ''
          : `; its housing came out ${mm(Math.abs(l.deeper))} mm too ${l.deeper > 0 ? 'deep, so housings are cut so much shallower' : 'shallow, so housings are cut so much deeper'}`;
      const corner = l.corner?.felt === 'bottoms' ? '; corners reach the floor of the relieved rung' : '';
      const where = material === board ? board : `${board}, which speaks for ${material}`;
      return `A ladder on ${where}: by hand from ${mm(reading.snug)} mm, mallet at ${mm(reading.drive)} mm, loose at ${mm(reading.slip)} mm${size}${floor}${corner}.`;
    })
    .join(' ');

/** Joints that share what is said of them, in the order of the first of each. */
function grouped(aims: readonly JointAim[], key: (a: JointAim) => string): JointAim[][] {
  const groups = new Map<string, JointAim[]>();
  for (const a of aims) groups.set(key(a), [...(groups.get(key(a)) ?? []), a]);
  return [...groups.values()];
}

const more = (by: number): string => `${mm(Math.abs(by))} mm ${by > 0 ? 'more' : 'less'} than`;

/**
 * Where joints are cut for another clearance than their family's, by name and figure: a wish of their own, what the fits give their type,
 * and equal knock, which moves the aim towards slack.
 */
export function aimWords(aims: readonly JointAim[], family: string): string[] {
  const wishes = aims
    .filter((a) => a.wish !== 0)
    .map(
      (a) =>
        `${a.joint} is wanted with ${more(a.wish)} ${family}, as the job says: ${mm(a.wanted)} mm in all, ${mm(a.family)} mm of it ${a.basis === 'ladder' ? 'felt in the ladder' : a.basis === 'job' ? 'the job’s own clearance' : `from the fits (${a.source})`}.`,
    );
  const types = grouped(
    aims.filter((a) => a.forType !== 0),
    (a) => `${a.forType}|${a.material}`,
  ).map(
    (g) =>
      `${list(g.map((a) => a.joint))}: ${more(g[0]!.forType)} other joints in ${g[0]!.material ?? 'this material'}, as the fits have it for their type.`,
  );
  const knocks = grouped(
    aims.filter((a) => a.knock !== 0),
    (a) => `${a.knock}|${a.together}|${a.wanted}`,
  ).map(
    (g) =>
      `Equal knock moves ${list(g.map((a) => a.joint))} towards slack by ${mm(g[0]!.knock)} mm, from ${mm(g[0]!.wanted - g[0]!.knock)} to ${mm(g[0]!.wanted)} mm, because ${g[0]!.together} joints go home in one move.`,
  );
  return [...wishes, ...types, ...knocks];
}
