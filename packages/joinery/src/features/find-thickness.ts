import type { Part } from '@haunch/model';
import { type Saying, statedThicknesses } from './stated-thickness.js';
import { type Measure, thicknessMeasures } from './thickness-measures.js';

/** A thickness that a drawing speaks for. mm */
export interface ThicknessEvidence {
  readonly value: number;
  /** The number of slots and steps that are this wide or deep. */
  readonly support: number;
  readonly slots: number;
  readonly steps: number;
  /** How many parts they are in. */
  readonly parts: number;
  /** The clearance drawn between steps and slots where the peak is split in two; null where it is not. */
  readonly drawnFit: number | null;
  /** Texts and layer names that state it. */
  readonly stated: readonly string[];
  /** Plain sentences for people. */
  readonly reasons: readonly string[];
}

/** What a drawing says about its design thickness: a proposal for a person, never a licence to resize. */
export interface ThicknessFinding {
  /** `likely`: one candidate is well ahead; `several`: rivals are near; `none`: nothing slots into anything. */
  readonly verdict: 'likely' | 'several' | 'none';
  /** The likeliest; null where there is none. */
  readonly value: number | null;
  /** All candidates, the likeliest first. */
  readonly candidates: readonly ThicknessEvidence[];
  /** Thicknesses that texts and layer names state, whether or not anything is drawn with them. */
  readonly stated: readonly { readonly value: number; readonly from: string }[];
  /** A unit in which the drawing would speak for a thickness, where in its own it does not. */
  readonly otherUnit: {
    readonly unit: 'cm' | 'inch' | 'm';
    readonly value: number;
    readonly support: number;
  } | null;
}

/** Widths no further apart belong together, mm. */
const TOGETHER = 0.02;
/** A drawn fit between the halves of a split peak is at most this, mm and as a share of the thickness. */
const MOST_FIT = 0.6;
const FIT_SHARE = 0.06;
/** The weaker half of a split peak has at least this share of the stronger one's support. */
const HALF_SHARE = 0.2;
/** Fewer places than this are chance. */
const LEAST_SUPPORT = 3;
/** Nor do so few of all parts make a piece. */
const LEAST_SHARE = 0.1;
/** Half a width this much supported makes the width a doubled sheet. */
const DOUBLED_SHARE = 0.15;
/** A rival this near the best makes several. */
const RIVAL = 0.6;
/** A sheet's nominal thickness is a multiple of this, mm: common practice, no source. */
const NOMINAL = 0.5;
/** What texts state agrees with what is drawn within this share. */
const STATED_WITHIN = 0.03;

interface Group {
  readonly value: number;
  readonly members: readonly Measure[];
  readonly fit: number | null;
}

function groupsOf(measures: readonly Measure[]): Group[] {
  const sorted = [...measures].sort((a, b) => a.width - b.width);
  const runs: Measure[][] = [];
  for (const m of sorted) {
    const last = runs.at(-1);
    if (last && m.width - last.at(-1)!.width <= TOGETHER) last.push(m);
    else runs.push([m]);
  }
  return runs.map((members) => ({
    value: Number(members[Math.floor(members.length / 2)]!.width.toFixed(4)),
    members,
    fit: null,
  }));
}

const count = (g: Group, what: Measure['what']): number => g.members.filter((m) => m.what === what).length;

/** The halves of peaks that a drawn fit or kerf has split, joined: their middle, both halves are kept besides. */
function splitPeaks(groups: readonly Group[]): Group[] {
  const out: Group[] = [];
  groups.forEach((a, i) => {
    for (const b of groups.slice(i + 1)) {
      const fit = b.value - a.value;
      if (fit > Math.min(MOST_FIT, FIT_SHARE * b.value)) break;
      const [few, many] = [a.members.length, b.members.length].sort((x, y) => x - y) as [number, number];
      if (few < 2 || few < HALF_SHARE * many) continue;
      // Halves of one peak differ in kind: what is wide in the air is narrow in the material.
      const kinds = count(a, 'slot') * count(b, 'step') + count(a, 'step') * count(b, 'slot');
      if (kinds === 0) continue;
      out.push({
        value: Number(((a.value + b.value) / 2).toFixed(4)),
        members: [...a.members, ...b.members],
        fit: Number(fit.toFixed(4)),
      });
    }
  });
  return out;
}

const isNominal = (v: number): boolean => Math.abs(v - Math.round(v / NOMINAL) * NOMINAL) < 0.011;

/** How much a group speaks for its value; `said` are the values that texts state near it. */
function scoreOf(g: Group, groups: readonly Group[], said: readonly number[]): number {
  const n = g.members.length;
  const both = count(g, 'slot') > 0 && count(g, 'step') > 0;
  // Twice a thickness is mostly two sheets together.
  const doubled = groups.some(
    (h) =>
      Math.abs(2 * h.value - g.value) <= 2 * TOGETHER && h.members.length >= Math.max(2, DOUBLED_SHARE * n),
  );
  // Of a split peak with a nominal half, that half is the thickness and the other one holds the fit.
  const halved = g.fit !== null && [g.value - g.fit / 2, g.value + g.fit / 2].some(isNominal);
  const exact = said.some((v) => Math.abs(v - g.value) <= TOGETHER);
  const weights = [
    both ? 1.5 : 1,
    doubled ? 0.4 : 1,
    halved ? 0.4 : 1,
    exact ? 3 : said.length > 0 ? 1.5 : 1,
    isNominal(g.value) ? 1.05 : 1,
  ];
  return weights.reduce((score, w) => score * w, n);
}

/** How many slots are as wide as two sheets of a thickness that is drawn more than once: they speak for it as well. */
const doublesOf = (g: Group, plain: readonly Group[]): number =>
  g.members.length < 2
    ? 0
    : plain
        .filter((h) => Math.abs(2 * g.value - h.value) <= 2 * TOGETHER)
        .reduce((n, h) => n + count(h, 'slot'), 0);

const figure = (v: number): string => String(Number(v.toFixed(3)));

function sentence(g: Group, what: Measure['what']): string[] {
  const of = g.members.filter((m) => m.what === what);
  if (of.length === 0) return [];
  const parts = [...new Set(of.map((m) => m.part))];
  const where =
    parts.length > 4
      ? `${parts.slice(0, 3).join(', ')} and ${parts.length - 3} more parts`
      : parts.join(', ');
  const widths = of.map((m) => m.width).sort((a, b) => a - b);
  const [low, high] = [figure(widths[0]!), figure(widths.at(-1)!)];
  const size =
    g.fit === null || low === high ? figure(g.fit === null ? g.value : widths[0]!) : `${low} to ${high}`;
  const noun = what === 'slot' ? 'slot' : 'step';
  return [
    `${of.length} ${noun}${of.length > 1 ? 's are' : ' is'} ${size} mm ${what === 'slot' ? 'wide' : 'deep'} (${where}).`,
  ];
}

/**
 * Which design thickness the parts speak for, with its rivals: widths of slots, notches and housings and depths of
 * steps, reliefs thought away, those within 0.02 mm taken together under their median; a peak that a drawn fit or
 * kerf has split is offered whole, by its middle, beside its halves. `said` are texts and layer names of the file.
 * Pool the parts of a project whose files hold one part each. Same parts in any order, same finding. It proposes;
 * a person confirms.
 */
export function findThickness(
  parts: readonly Part[],
  { said = [] }: { readonly said?: readonly Saying[] } = {},
): ThicknessFinding {
  const stated = statedThicknesses(said);
  const plain = groupsOf(thicknessMeasures(parts));
  const groups = [...plain, ...splitPeaks(plain)];
  const sayings = (v: number) => stated.filter((s) => Math.abs(s.value - v) <= STATED_WITHIN * v);
  const ranked = groups
    .map((g) => ({
      g,
      score: scoreOf(
        g,
        groups,
        sayings(g.value).map((s) => s.value),
      ),
    }))
    .sort((a, b) => b.score - a.score || a.g.value - b.g.value || b.g.members.length - a.g.members.length);
  const candidates = ranked.map(({ g }): ThicknessEvidence => {
    const says = sayings(g.value);
    return {
      value: g.value,
      support: g.members.length,
      slots: count(g, 'slot'),
      steps: count(g, 'step'),
      parts: new Set(g.members.map((m) => m.part)).size,
      drawnFit: g.fit,
      stated: says.map((s) => s.from),
      reasons: [
        ...sentence(g, 'slot'),
        ...sentence(g, 'step'),
        ...(g.fit === null ? [] : [`Slots and steps lie ${figure(g.fit)} mm apart: a drawn fit or kerf.`]),
        ...says.map((s) => `${s.from} states ${figure(s.value)} mm.`),
      ],
    };
  });
  const [best] = ranked;
  const enough =
    best !== undefined &&
    (best.g.members.length + doublesOf(best.g, plain) >=
      Math.max(LEAST_SUPPORT, LEAST_SHARE * parts.length) ||
      sayings(best.g.value).length > 0);
  const otherUnit = enough ? null : unitThatFits(parts);
  if (!enough) return { verdict: 'none', value: null, candidates, stated, otherUnit };
  const near = (v: number): boolean => Math.abs(v - best.g.value) <= Math.min(MOST_FIT, FIT_SHARE * v);
  const rival = ranked.find(
    (r) =>
      !near(r.g.value) &&
      Math.abs(r.g.value - 2 * best.g.value) > 2 * TOGETHER &&
      r.g.members.length >= LEAST_SUPPORT,
  );
  const several = rival !== undefined && rival.score >= RIVAL * best.score;
  return { verdict: several ? 'several' : 'likely', value: best.g.value, candidates, stated, otherUnit };
}

/** The unit other than mm in which the parts would speak for a thickness most clearly. */
function unitThatFits(parts: readonly Part[]): ThicknessFinding['otherUnit'] {
  const units = [
    { unit: 'cm', mm: 10 },
    { unit: 'inch', mm: 25.4 },
    { unit: 'm', mm: 1000 },
  ] as const;
  const found = units.flatMap(({ unit, mm }) => {
    const groups = groupsOf(thicknessMeasures(parts, 1 / mm));
    const best = groups
      .map((g) => ({ g, score: scoreOf(g, groups, []) }))
      .sort((a, b) => b.score - a.score || a.g.value - b.g.value)[0];
    return best && best.g.members.length >= LEAST_SUPPORT
      ? [{ unit, value: best.g.value, support: best.g.members.length, score: best.score }]
      : [];
  });
  const [first] = found.sort((a, b) => b.score - a.score || (a.unit < b.unit ? -1 : 1));
  return first ? { unit: first.unit, value: first.value, support: first.support } : null;
}
