import type { Diagnostic, Feature, FeatureTable, Locus, Part } from '@haunch/model';
import {
  tableEdgeMissing,
  tablePartMissing,
  tableSameId,
  tableSidesAskew,
  tableSizeDiffers,
} from './diagnostics.js';
import { thinnest, wallCoursesOf } from './recognise-features.js';
import { sameRun, type Wall, type WallCourse, wallDistance } from './wall-course.js';

/** A wall of a part: the contour that it is on, its element there, and its number among all walls of the part. */
export interface PartWall {
  readonly course: number;
  readonly element: number;
  readonly number: number;
  readonly wall: Wall;
}

/** A part with its walls and the features of a table that are on them. */
export interface PartWalls {
  readonly part: Part;
  readonly courses: readonly WallCourse[];
  readonly walls: readonly PartWall[];
  readonly features: readonly {
    readonly feature: Feature;
    readonly sides: readonly [PartWall[], PartWall[]];
  }[];
}

/** The drawing may be this much nearer or farther than a table says before it counts as another drawing, mm. */
const SAME_SIZE = 0.05;

/** The walls of parts, and a table's features on them; what the table names in vain is reported. */
export function tableWalls(
  parts: readonly Part[],
  table: FeatureTable,
): { readonly parts: readonly PartWalls[]; readonly problems: readonly Diagnostic[] } {
  const problems: Diagnostic[] = [];
  const inFile: Locus = table.file === null ? {} : { file: table.file };
  const known = parts.map((p) => p.id);
  const ids = new Set<string>();
  for (const f of table.features) {
    if (ids.has(f.id)) problems.push(tableSameId(f.id, { ...inFile, feature: f.id }));
    ids.add(f.id);
    if (!known.includes(f.part)) problems.push(tablePartMissing(f.part, known, { ...inFile, feature: f.id }));
  }
  for (const id of table.outerSize)
    if (!known.includes(id)) problems.push(tablePartMissing(id, known, { ...inFile, path: 'outerSize' }));
  const byPart = new Map<string, Feature[]>();
  for (const f of table.features) {
    const list = byPart.get(f.part);
    if (list) list.push(f);
    else byPart.set(f.part, [f]);
  }
  const result = parts.map((part) => {
    const w = wallsOfPart(part, thinnest(table.thicknesses));
    const named = new Map(
      w.walls.flatMap((wall) => wall.wall.names.map((name) => [`${wall.course}|${name}`, wall] as const)),
    );
    const features = (byPart.get(part.id) ?? []).flatMap((feature) => {
      const sides = sidesOf(w, named, feature, inFile, problems);
      return sides ? [{ feature, sides }] : [];
    });
    return { ...w, features };
  });
  return { parts: result, problems };
}

/** The walls of a part, numbered through its contours. */
export function wallsOfPart(part: Part, thickness: number): Omit<PartWalls, 'features'> {
  const courses = wallCoursesOf(part, thickness);
  const walls: PartWall[] = [];
  courses.forEach(({ elements }, course) => {
    elements.forEach((wall, element) => {
      if (wall.kind === 'wall') walls.push({ course, element, number: walls.length, wall });
    });
  });
  return { part, courses, walls };
}

function sidesOf(
  { part, courses }: Omit<PartWalls, 'features'>,
  named: ReadonlyMap<string, PartWall>,
  feature: Feature,
  inFile: Locus,
  problems: Diagnostic[],
): [PartWall[], PartWall[]] | null {
  const at: Locus = { ...inFile, part: part.id, feature: feature.id };
  const course = courses.findIndex((c) => c.course.contour === feature.contour);
  const side = (names: readonly string[]): PartWall[] | null => {
    const found = new Set<PartWall>();
    for (const name of names) {
      const wall = named.get(`${course}|${name}`);
      if (wall) found.add(wall);
      else problems.push(tableEdgeMissing(name, at));
    }
    return found.size > 0 ? [...found] : null;
  };
  const [a, b] = [side(feature.sides[0]), side(feature.sides[1])];
  if (!a || !b) return null;
  for (const [p, q] of pairsOf([a, b])) {
    if (sameRun(p.wall, q.wall) === 0) {
      problems.push(tableSidesAskew([p.wall.names[0]!, q.wall.names[0]!], at));
      return null;
    }
    const drawn = Math.abs(wallDistance(p.wall, q.wall));
    // A drawn fit may differ from finger to finger; the table holds their mean.
    if (Math.abs(drawn - feature.size) > SAME_SIZE + 0.03 * feature.size) {
      problems.push(tableSizeDiffers(feature.size, drawn, at));
      return null;
    }
  }
  return [a, b];
}

/** The pairs of walls whose distance a feature fixes: each wall once with the first of the other side. */
export const pairsOf = ([a, b]: readonly [readonly PartWall[], readonly PartWall[]]): [
  PartWall,
  PartWall,
][] => [
  ...b.map((q): [PartWall, PartWall] => [a[0]!, q]),
  ...a.slice(1).map((p): [PartWall, PartWall] => [p, b[0]!]),
];
