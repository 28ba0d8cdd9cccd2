import { distance, snap } from '@haunch/geometry';
import {
  type Diagnostic,
  type Feature,
  type FeatureTable,
  type Outcome,
  ok,
  type Part,
  settle,
} from '@haunch/model';
import { tooFar } from '../change-limit.js';
import { changeMissing, changeTooFar, contradictoryHolds } from './diagnostics.js';
import { leastOffsets } from './least-offsets.js';
import { type MovedPart, movePartWalls } from './move-part.js';
import type { MovedRing } from './move-walls.js';
import { offsetRows } from './offset-rows.js';
import { thinnest } from './recognise-features.js';
import { type PartWalls, tableWalls } from './table-walls.js';

/** A sheet that the drawing was made for and the one at hand, mm. */
export interface ThicknessChange {
  readonly from: number;
  readonly to: number;
}

/** How bare parts are to be refitted. */
export interface RefitByFeaturesOptions {
  /** The least web or finger that a refit may leave, mm (2 if not given); of thinner ones as drawn, 0.8 of that. */
  readonly leastWeb?: number;
}

/** Parts refitted by what was recognised in them. */
export interface FeatureRefit {
  readonly parts: readonly Part[];
  /** The same features at the new thickness. */
  readonly table: FeatureTable;
  /** How many corners moved, by part. */
  readonly moved: Readonly<Record<string, number>>;
}

/** Two thicknesses nearer than this are one, mm. */
const SAME = 1e-6;
/** Common practice, no source. mm */
const LEAST_WEB = 2;
/** The new thickness of every thickness that features follow. */
function changesOf(
  table: FeatureTable,
  to: number | readonly ThicknessChange[],
  problems: Diagnostic[],
): (thickness: number) => number {
  const list =
    typeof to === 'number'
      ? table.thicknesses.length === 1
        ? [{ from: table.thicknesses[0]!, to }]
        : []
      : to;
  for (const c of list)
    if (!(c.to > 0 && c.to < Infinity))
      throw new RangeError(`refitByFeatures: thickness ${c.to} must be positive`);
  const find = (thickness: number): ThicknessChange | undefined =>
    list.find((c) => Math.abs(c.from - thickness) <= SAME);
  const followed = [...new Set(table.features.filter((f) => f.follows).map((f) => f.thickness))].sort(
    (a, b) => a - b,
  );
  for (const t of followed) {
    const first = table.features.find((f) => f.follows && f.thickness === t)!;
    if (!find(t))
      problems.push(
        changeMissing(
          t,
          list.map((c) => c.from),
          { ...(table.file === null ? {} : { file: table.file }), part: first.part, feature: first.id },
        ),
      );
  }
  for (const { from, to: wanted } of list) {
    const first = table.features.find((f) => f.follows && Math.abs(f.thickness - from) <= SAME);
    if (first && tooFar(from, wanted))
      problems.push(
        changeTooFar(from, wanted, {
          ...(table.file === null ? {} : { file: table.file }),
          part: first.part,
          feature: first.id,
        }),
      );
  }
  return (thickness) => find(thickness)?.to ?? thickness;
}

/**
 * Bare parts at another thickness, by the features of a table: every feature that follows gets as much wider or
 * deeper as its sheets get thicker (a drawn fit stays), moved as its hold says, by offsets of walls with the least sum
 * of squares; corners are met again, what is drawn in a corner travels with it, arcs keep their radius. What need not
 * move keeps its numbers exactly; the rest is on the 0.0001 mm grid. Guarantees: the same thickness changes nothing;
 * there and back is the original within the grid; the result does not depend on the order of parts, on the sense of
 * contours, or on where and how the parts lie. Refused by name: a table that does not fit the drawing, holds that
 * contradict, sheets more than three times as thick or as thin, edges that vanish, webs and fingers too thin, contours that cross, recesses as deep as their plate.
 * @throws RangeError for a thickness that is not positive and finite.
 */
export function refitByFeatures(
  parts: readonly Part[],
  table: FeatureTable,
  to: number | readonly ThicknessChange[],
  options: RefitByFeaturesOptions = {},
): Outcome<FeatureRefit> {
  const problems: Diagnostic[] = [];
  const newThickness = changesOf(table, to, problems);
  const walls = tableWalls(parts, table);
  problems.push(...walls.problems);
  if (problems.length > 0) return { ok: false, diagnostics: problems };
  const growth = (f: Feature): number => (newThickness(f.thickness) - f.thickness) * f.sheets;
  const still =
    table.thicknesses.every((t) => newThickness(t) === t) &&
    table.features.every((f) => !f.follows || growth(f) === 0);
  if (still) return ok({ parts, table, moved: Object.fromEntries(parts.map((p) => [p.id, 0])) });
  const outer = new Set(table.outerSize);
  const limit = thinnest(table.thicknesses);
  const least = options.leastWeb ?? LEAST_WEB;
  const refitted = walls.parts.map((p) =>
    refitPart(p, growth, outer.has(p.part.id), newThickness, limit, least, problems),
  );
  const corners = new Map(refitted.map((r) => [r.part.id, r.rings]));
  return settle(
    {
      parts: refitted.map((r) => r.part),
      table: tableAfter(table, newThickness, growth, corners),
      moved: Object.fromEntries(refitted.map((r) => [r.part.id, r.moved])),
    },
    problems,
  );
}

function refitPart(
  p: PartWalls,
  growth: (f: Feature) => number,
  outerSize: boolean,
  newThickness: (t: number) => number,
  limit: number,
  least: number,
  problems: Diagnostic[],
): MovedPart {
  const { part, courses } = p;
  const { offsets, conflicts } = leastOffsets(p.walls.length, offsetRows(p, growth, outerSize));
  for (const { row, with: others } of conflicts)
    problems.push(contradictoryHolds(row.name, others, { part: part.id }));
  const thickness = part.thickness === null ? null : newThickness(part.thickness);
  const by = courses.map(({ elements }) => new Array<number>(elements.length).fill(0));
  if (conflicts.length === 0) for (const w of p.walls) by[w.course]![w.element] = offsets[w.number]!;
  const followed = (course: number, element: number): readonly string[] =>
    p.features.flatMap(({ feature, sides }) =>
      feature.follows && sides.some((s) => s.some((w) => w.course === course && w.element === element))
        ? [feature.id]
        : [],
    );
  const moved = movePartWalls(part, courses, by, { thickness, limit, least, followed });
  problems.push(...moved.problems);
  return moved;
}

/** The table as it describes the refitted parts. */
function tableAfter(
  table: FeatureTable,
  newThickness: (t: number) => number,
  growth: (f: Feature) => number,
  rings: ReadonlyMap<string, ReadonlyMap<string, MovedRing>>,
): FeatureTable {
  const cornerOf = (part: string, contour: string, p: { x: number; y: number }) =>
    rings
      .get(part)
      ?.get(contour)
      ?.corners.find((c) => distance(c.corner, p) <= 0.001);
  return {
    ...table,
    thicknesses: [...new Set(table.thicknesses.map(newThickness))].sort((a, b) => a - b),
    features: table.features.map((f) => ({
      ...f,
      size: f.follows ? snap(f.size + growth(f)) : f.size,
      thickness: newThickness(f.thickness),
    })),
    reliefs: table.reliefs.map((r) => {
      const moved = cornerOf(r.part, r.contour, r.corner);
      return moved
        ? { ...r, corner: { x: snap(r.corner.x + moved.by.x), y: snap(r.corner.y + moved.by.y) } }
        : r;
    }),
  };
}
