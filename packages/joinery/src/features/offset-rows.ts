import type { Feature } from '@haunch/model';
import type { OffsetRow } from './least-offsets.js';
import { type PartWall, type PartWalls, pairsOf } from './table-walls.js';
import { sameRun, type Wall, wallDistance } from './wall-course.js';

/** Features this alike belong to one row of repeated ones, mm. */
const ALIKE = 0.05;
/** An outermost wall has the whole outline on its inner side within this, mm. */
const OUTERMOST = 0.005;

/** By how much the distance of a feature's sides changes. mm */
export type Growth = (feature: Feature) => number;

/**
 * What is wanted of the offsets of a part's walls, the firmest first: sizes that follow, holds that were asked for,
 * overall sizes, the pitch of repeated features, usual holds. Unknowns are walls by number, moved along their left
 * normal. mm
 */
export function offsetRows(p: PartWalls, growth: Growth, outerSize: boolean): OffsetRow[] {
  const following = p.features.filter(({ feature }) => feature.follows);
  return [
    ...following.flatMap(({ feature, sides }) => sizeRows(feature, sides, growth(feature))),
    ...following.flatMap(({ feature, sides }) => (feature.hold === 'usual' ? [] : holdRows(feature, sides))),
    ...(outerSize ? outerRows(p) : []),
    ...pitchRows(following),
    ...following.flatMap(({ feature, sides }) => (feature.hold === 'usual' ? holdRows(feature, sides) : [])),
  ];
}

type Sides = readonly [readonly PartWall[], readonly PartWall[]];

function sizeRows(feature: Feature, sides: Sides, grows: number): OffsetRow[] {
  return pairsOf([sides[0], sides[1]]).map(([a, b]) => {
    const side = wallDistance(a.wall, b.wall) > 0 ? 1 : -1;
    return {
      terms: [
        [b.number, sameRun(a.wall, b.wall)],
        [a.number, -1],
      ],
      value: side * grows,
      name: `the size of ${feature.id}`,
      firm: true,
    };
  });
}

function holdRows(feature: Feature, sides: Sides): OffsetRow[] {
  const firm = feature.hold !== 'usual';
  const name = firm ? `hold '${feature.hold}' of ${feature.id}` : `the usual hold of ${feature.id}`;
  const keep = feature.hold === 'usual' ? usualHold(feature) : feature.hold;
  if (keep === 'first' || keep === 'second')
    return sides[keep === 'first' ? 0 : 1].map((w) => ({ terms: [[w.number, 1]], value: 0, name, firm }));
  const [a, b] = [sides[0][0]!, sides[1][0]!];
  return [
    {
      terms: [
        [a.number, 1],
        [b.number, sameRun(a.wall, b.wall)],
      ],
      value: 0,
      name,
      firm,
    },
  ];
}

/** What usually stays: the middle of a width; shoulders under tenons and fingers; the edge above a notch's floor. */
const usualHold = (f: Feature): 'centre' | 'first' | 'second' =>
  f.measure === 'width' ? 'centre' : f.kind === 'notch' ? 'second' : 'first';

/** The outermost straight walls of the outline stay. */
function outerRows({ part, courses, walls }: PartWalls): OffsetRow[] {
  const points = courses[0]!.course.vertices;
  const isOuter = (w: Wall): boolean =>
    points.every((v) => w.ux * (v.y - w.from.y) - w.uy * (v.x - w.from.x) >= -OUTERMOST);
  return walls
    .filter((w) => w.course === 0 && isOuter(w.wall))
    .map((w) => ({
      terms: [[w.number, 1]],
      value: 0,
      name: `the overall size of ${part.id} (edge ${w.wall.names[0]})`,
      firm: true,
    }));
}

interface Placed {
  readonly feature: Feature;
  readonly sides: Sides;
  /** Along the left normal of the row's first wall. */
  readonly at: number;
}

/** In a row of three or more alike at one pitch, of which some are held by hand, the others move as those do. */
function pitchRows(features: readonly { readonly feature: Feature; readonly sides: Sides }[]): OffsetRow[] {
  if (features.every(({ feature }) => feature.hold === 'usual')) return [];
  const rows: Placed[][] = [];
  for (const f of features) {
    if (f.feature.measure !== 'width') continue;
    const row = rows.find((r) => alike(r[0]!, f));
    const first = (row?.[0] ?? f).sides[0][0]!.wall;
    const at = f.feature.at;
    const placed = { ...f, at: first.ux * (at.y - first.from.y) - first.uy * (at.x - first.from.x) };
    if (row) row.push(placed);
    else rows.push([placed]);
  }
  return rows.flatMap((row) => {
    const sorted = [...row].sort((a, b) => a.at - b.at || (a.feature.id < b.feature.id ? -1 : 1));
    const gaps = sorted.slice(1).map((f, i) => f.at - sorted[i]!.at);
    if (sorted.length < 3 || gaps.some((g) => Math.abs(g - gaps[0]!) > ALIKE) || gaps[0]! < ALIKE) return [];
    const normal = sorted[0]!.sides[0][0]!;
    return sorted.slice(1).map((f, i): OffsetRow => {
      const before = sorted[i]!;
      const centre = (p: Placed, sign: number): [number, number][] =>
        [p.sides[0][0]!, p.sides[1][0]!].map((w) => [w.number, (sign * sameRun(normal.wall, w.wall)) / 2]);
      return {
        terms: [...centre(f, 1), ...centre(before, -1)],
        value: 0,
        name: `the pitch from ${before.feature.id} to ${f.feature.id}`,
        firm: false,
      };
    });
  });
}

const alike = (a: { feature: Feature; sides: Sides }, b: { feature: Feature; sides: Sides }): boolean =>
  a.feature.kind === b.feature.kind &&
  Math.abs(a.feature.size - b.feature.size) <= ALIKE &&
  Math.abs(a.feature.extent - b.feature.extent) <= ALIKE &&
  sameRun(a.sides[0][0]!.wall, b.sides[0][0]!.wall) !== 0;
