import type { Box, Point } from '@haunch/geometry';
import type { Move, Place, Toolpath, Workingstep } from '@haunch/model';

/** What a picture shows of one step's motions, as path data in board coordinates, y up. mm */
export interface StepPaths {
  readonly step: Workingstep;
  /** Number in the order of work, from 1. */
  readonly number: number;
  /** Along the bottom of the cut. */
  readonly cut: readonly string[];
  /** Where the cutter goes down through wood. */
  readonly entering: readonly string[];
  /** Above the sheet, from the step before to this one and between its cuts. */
  readonly air: readonly string[];
  /** Where only a hole is drilled. */
  readonly drilled: readonly Point[];
  /** What its cut covers; null where nothing but a hole is drilled. */
  readonly extent: Box | null;
  /** Where it enters the wood first. */
  readonly at: Point;
}

/** Heights nearer than this are the same, mm. */
const SAME = 0.01;
/** Travel shorter than this is no line in a picture, mm. */
const SHORT = 0.5;

const n = (v: number): string => String(Math.round(v * 100) / 100 + 0);
const at = ({ x, y }: Point): string => `${n(x)} ${n(y)}`;

/** One motion as path data. */
function dataOf(from: Place, m: Extract<Move, { to: Place }>): string {
  if (m.kind !== 'circular') return `M${at(from)}L${at(m.to)}`;
  const r = Math.hypot(from.x - m.centre.x, from.y - m.centre.y);
  const angle = (p: Point): number => Math.atan2(p.y - m.centre.y, p.x - m.centre.x);
  const turn = 2 * Math.PI;
  const swept = (m.turn === 'ccw' ? angle(m.to) - angle(from) : angle(from) - angle(m.to)) + turn;
  const sweep = m.turn === 'ccw' ? 1 : 0;
  const opposite = { x: 2 * m.centre.x - from.x, y: 2 * m.centre.y - from.y };
  // A full turn has no chord by which its arc could be told.
  if (Math.hypot(m.to.x - from.x, m.to.y - from.y) < 1e-6)
    return `M${at(from)}A${n(r)} ${n(r)} 0 0 ${sweep} ${at(opposite)}A${n(r)} ${n(r)} 0 0 ${sweep} ${at(m.to)}`;
  return `M${at(from)}A${n(r)} ${n(r)} 0 ${swept % turn > Math.PI ? 1 : 0} ${sweep} ${at(m.to)}`;
}

/** Strokes that follow one on the other as one, each stroke once. */
function joined(strokes: readonly string[]): string[] {
  const out: string[] = [];
  for (const s of new Set(strokes)) {
    const [, start, rest] = /^M([^LA]*)(.*)$/.exec(s)!;
    const last = out.at(-1);
    if (last?.endsWith(start!)) out[out.length - 1] = last + rest!;
    else out.push(s);
  }
  return out;
}

const extentOf = (places: readonly Point[]): Box | null =>
  places.length === 0
    ? null
    : {
        minX: Math.min(...places.map((p) => p.x)),
        minY: Math.min(...places.map((p) => p.y)),
        maxX: Math.max(...places.map((p) => p.x)),
        maxY: Math.max(...places.map((p) => p.y)),
      };

/**
 * What is to be seen of every step of a toolpath, in order: its cut along the bottom alone, as the passes above it lie in the same place;
 * where it goes down; its ways through the air. `top` is the height of the sheet's top in the toolpath's coordinates, mm.
 */
export function stepPaths(steps: readonly Workingstep[], { moves }: Toolpath, top: number): StepPaths[] {
  const byStep = new Map<string, { from: Place; m: Extract<Move, { to: Place }> }[]>(
    steps.map((s) => [s.id, []]),
  );
  let before: Place | undefined;
  for (const m of moves) {
    if (!('to' in m)) continue;
    if (before !== undefined) byStep.get(m.from)?.push({ from: before, m });
    before = m.to;
  }
  return steps.map((step, i): StepPaths => {
    const own = byStep.get(step.id)!;
    const inWood = own.filter(({ from, m }) => Math.min(from.z, m.to.z) < top - SAME);
    const bottom = Math.min(top, ...inWood.map(({ m }) => m.to.z));
    const flat = ({ from, m }: (typeof own)[number]): number => Math.hypot(m.to.x - from.x, m.to.y - from.y);
    const moving = (o: (typeof own)[number]): boolean => flat(o) > SHORT || o.m.kind === 'circular';
    const cut = inWood.filter((o) => moving(o) && Math.max(o.from.z, o.m.to.z) < bottom + SAME);
    const down = inWood.filter((o) => moving(o) && o.m.to.z < o.from.z - SAME);
    const air = own.filter((o) => Math.min(o.from.z, o.m.to.z) >= top - SAME && flat(o) > SHORT);
    const drawn = (some: typeof own): string[] => joined(some.map(({ from, m }) => dataOf(from, m)));
    const first = inWood[0]?.m.to ?? own.at(-1)?.m.to ?? { x: 0, y: 0 };
    return {
      step,
      number: i + 1,
      cut: drawn(cut),
      entering: drawn(down),
      air: drawn(air),
      drilled: cut.length === 0 && down.length === 0 && inWood.length > 0 ? [{ x: first.x, y: first.y }] : [],
      extent: extentOf(cut.map(({ m }) => m.to)),
      at: { x: first.x, y: first.y },
    };
  });
}
