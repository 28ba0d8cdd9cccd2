import type { Point } from '@haunch/geometry';
import type { Finding, RuleResult } from '@haunch/model';
import type { Spot } from '../deviation.js';
import type { Judgement } from '../judgement.js';
import type { Level } from '../sweep/level.js';
import type { Stretch } from '../sweep/stretch.js';
import { nearestStretch } from '../tracks-nearest.js';

/** What a rule says; `verdict` follows from the findings unless the rule cannot judge. */
export interface RuleSays {
  readonly findings: readonly Finding[];
  readonly margin: number | null;
  readonly judged?: boolean;
}

/** A numbered rule: its page is in docs/rules.md. */
export interface Rule {
  readonly id: string;
  readonly title: string;
  readonly unit: string;
  judge(j: Judgement): RuleSays;
}

/** More findings of one rule than this are counted, not listed. */
const MOST = 40;

/** A rule's verdict on a judgement. */
export function applyRule(rule: Rule, j: Judgement): RuleResult {
  const { findings, margin: told, judged = true } = rule.judge(j);
  // What fails by a word that is missing or a code has no figure: the room that some length has left would mislead.
  const margin = told !== null && told >= 0 && findings.length > 0 ? null : told;
  const listed = findings.slice(0, MOST);
  if (findings.length > MOST) listed.push({ message: `${findings.length - MOST} more places like these.` });
  return {
    rule: rule.id,
    title: rule.title,
    verdict: judged ? (findings.length > 0 ? 'fail' : 'pass') : 'not judged',
    margin: margin === null ? null : micro(margin),
    unit: rule.unit,
    findings: listed,
  };
}

const micro = (v: number): number => Math.round(v * 1e6) / 1e6 + 0;

/** A length for a sentence: mm to the micrometre, without trailing zeros. */
export const mm = (v: number): string => String(Math.round(v * 1000) / 1000 + 0);

/** A place of the plane, for findings. */
export const flat = (p: Point): Point => ({ x: micro(p.x), y: micro(p.y) });

/** A finding at a motion, with the part, contour and joint nearest to a place on it. */
export const atStretch = (
  j: Judgement,
  s: Stretch,
  message: string,
  at: Point = s.to,
  amount?: number,
): Finding => ({
  message,
  line: s.line,
  ...j.place.at(at),
  at: flat(at),
  ...(amount === undefined ? {} : { amount: micro(amount) }),
});

/** The line whose cut made the edge at a place over a slab: of several the last, or the first, which the others only follow. */
export function lineAt(
  j: Judgement,
  at: Point,
  level: Level,
  which: 'first' | 'last' = 'last',
): number | undefined {
  const edges = j.field.at(level.at).edgesAt(at, 0.003);
  if (edges.length > 0)
    return edges.reduce((a, b) => (b.index > a.index === (which === 'last') ? b : a)).line;
  return nearestStretch(j.stretches, at, j.top)?.line;
}

/** A finding where an item as cut differs from what is wanted. */
export function atSpot(
  j: Judgement,
  item: string,
  s: Spot,
  message: string,
  which: 'first' | 'last' = 'last',
): Finding {
  const line = lineAt(j, s.at, s.level, which);
  return {
    message,
    ...(line === undefined ? {} : { line }),
    ...j.place.at(s.at, { item, contour: s.contour.id, tag: s.tag }),
    at: flat(s.at),
    amount: micro(s.amount),
  };
}

/** The worst of spots that are the same place on several slabs. */
export function worstSpots(spots: readonly Spot[], apart: number): Spot[] {
  const out: Spot[] = [];
  for (const s of [...spots].sort((a, b) => b.amount - a.amount || a.at.x - b.at.x || a.at.y - b.at.y))
    if (
      !out.some((o) => o.contour.id === s.contour.id && Math.hypot(o.at.x - s.at.x, o.at.y - s.at.y) < apart)
    )
      out.push(s);
  return out;
}
