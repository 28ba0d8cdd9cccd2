import { snap } from '@haunch/geometry';
import {
  type Diagnostic,
  type DrawnRelief,
  type Feature,
  type FeatureTable,
  type Outcome,
  ok,
  type Part,
} from '@haunch/model';
import type { Candidate, Match, Matched } from './candidate.js';
import { cornerLimits } from './corner-pieces.js';
import { coursesOf } from './course.js';
import { leaningSlots, looseSlots, nothingFollows } from './diagnostics.js';
import { facingPairs } from './facing.js';
import { isHalfRoundEnded, withoutGuides } from './guides.js';
import { leaningSuspects } from './leaning-suspects.js';
import { type LooseWidth, looseWidths } from './loose-slots.js';
import { naturally } from './natural-order.js';
import { projectionsOf } from './projections.js';
import { slotsOf } from './slots.js';
import { type WallCourse, wallCourse } from './wall-course.js';

/** How features are to be recognised. */
export interface RecogniseOptions {
  /** The thicknesses that the drawing was made for, as a person confirmed or the drawing states. mm */
  readonly thicknesses: readonly number[];
  /**
   * How far a drawn width may be from a thickness to stand for it (a drawn fit); if not given 0.1 + 2.5 %. Three or more
   * slots that share a greater clearance, up to 6 %, stand for it as well where nothing is as deep, and it is said. mm
   */
  readonly within?: number;
  /** The file that the parts were read from. */
  readonly file?: string;
}

const within = (t: number, given: number | undefined): number => given ?? 0.1 + 0.025 * t;

function matcher({ thicknesses, within: given }: RecogniseOptions): Match {
  const all = thicknesses.flatMap((t) =>
    ([1, 2] as const).map((sheets) => ({ thickness: t, sheets, size: t * sheets, most: within(t, given) })),
  );
  return (size) => {
    let best: Matched | null = null;
    for (const { thickness, sheets, size: s, most } of all) {
      const off = size - s;
      if (Math.abs(off) > most + 1e-9) continue;
      if (best === null || Math.abs(off) < Math.abs(best.off))
        best = { thickness, sheets, off, most, alike: 0 };
    }
    return best;
  };
}

/** As `match`, and widths that slots share although they are wider than a fit makes them. */
const loosely =
  (match: Match, loose: readonly LooseWidth[]): Match =>
  (size) => {
    const found = match(size);
    const wide = loose.find((l) => size >= l.from - 1e-9 && size <= l.to + 1e-9);
    if (found || !wide) return found;
    const off = size - wide.thickness;
    return { thickness: wide.thickness, sheets: 1, off, most: off, alike: wide.slots };
  };

function named(part: Part, w: WallCourse, found: readonly Candidate[]): Omit<Feature, 'id'>[] {
  const names = (side: readonly number[]): string[] =>
    side.flatMap((k) => w.elements[k]!.names).sort(naturally);
  return found.map((c) => {
    const [a, b] = [names(c.sides[0]), names(c.sides[1])];
    // Walls of a slot have no order of their own; shoulders come before tips.
    const sides: [string[], string[]] =
      c.measure === 'depth' || naturally(a[0]!, b[0]!) <= 0 ? [a, b] : [b, a];
    return {
      part: part.id,
      contour: w.course.contour,
      kind: c.kind,
      measure: c.measure,
      size: snap(c.size),
      extent: snap(c.extent),
      count: c.count,
      thickness: c.thickness,
      sheets: c.sheets,
      sides,
      hold: 'usual' as const,
      confidence: Number(Math.max(0, Math.min(1, c.confidence)).toFixed(2)),
      follows: c.follows,
      reasons: c.reasons,
      at: { x: snap(c.at.x), y: snap(c.at.y) },
    };
  });
}

function reliefsOf(part: Part, w: WallCourse): DrawnRelief[] {
  return w.pieces.flatMap((p): DrawnRelief[] =>
    p === null || (p.form !== 'round relief' && p.form !== 'square relief')
      ? []
      : [
          {
            part: part.id,
            contour: w.course.contour,
            form: p.form,
            corner: { x: snap(p.corner.x), y: snap(p.corner.y) },
            size: snap(p.size),
            edges: p.segments.map((i) => w.course.names[i]!),
          },
        ],
  );
}

/** Parts are never changed, so what they consist of holds as long as they live. */
const knownCourses = new WeakMap<Part, Map<number, WallCourse[]>>();

/** The contours of a part as walls, with the limits that its features were, or are to be, recognised by. */
export function wallCoursesOf(part: Part, thickness: number): WallCourse[] {
  const known = knownCourses.get(part) ?? new Map<number, WallCourse[]>();
  knownCourses.set(part, known);
  const before = known.get(thickness);
  if (before) return before;
  const courses = coursesOf(part).map(({ contour, air }) =>
    wallCourse(part.id, contour, air, cornerLimits(thickness)),
  );
  known.set(thickness, courses);
  return courses;
}

/** The thinnest of several thicknesses decides what can be a relief. */
export const thinnest = (thicknesses: readonly number[]): number => Math.min(...thicknesses);

function featuresOfPart(
  part: Part,
  options: RecogniseOptions,
  loose: readonly LooseWidth[],
): { features: Feature[]; reliefs: DrawnRelief[] } {
  const match = matcher(options);
  const t = thinnest(options.thicknesses);
  const widest = Math.max(...options.thicknesses.map((v) => 2 * v + within(v, options.within)));
  const numbers = new Map<string, number>();
  const features: Feature[] = [];
  const reliefs: DrawnRelief[] = [];
  const courses = wallCoursesOf(part, t);
  courses.forEach((w, i) => {
    const pocket = i > part.through.length;
    const outline = i === 0;
    const facing = facingPairs(w, { least: Math.min(t, 4) * 0.5, widest });
    const projections = outline ? projectionsOf(w, match) : [];
    const kind = outline ? 'notch' : pocket ? 'housing' : 'slot';
    const slots = slotsOf(w, facing, kind === 'slot' ? loosely(match, loose) : match, kind, projections);
    const found = named(part, w, [...slots, ...projections]);
    found.sort(
      (a, b) => naturally(a.sides[0][0]!, b.sides[0][0]!) || naturally(a.sides[1][0]!, b.sides[1][0]!),
    );
    for (const f of found) {
      const n = (numbers.get(f.kind) ?? 0) + 1;
      numbers.set(f.kind, n);
      features.push({ id: `${part.id}.${f.kind}-${n}`, ...f });
    }
    reliefs.push(...reliefsOf(part, w));
  });
  return { features, reliefs };
}

/**
 * Finds what follows the sheet's thickness in bare parts: slots, notches and housings (walls that face each other
 * across air), tenons and finger runs (steps out of the outline), each with the edges that carry it, its drawn size,
 * a confidence and reasons; and the reliefs drawn in corners. Ids and order do not change with the order of parts'
 * vertices, their sense, place or turn, as long as edges are tagged. mm
 * @throws RangeError when no thickness is given or one is not positive and finite.
 */
export function recogniseFeatures(parts: readonly Part[], options: RecogniseOptions): Outcome<FeatureTable> {
  if (options.thicknesses.length === 0) throw new RangeError('recogniseFeatures: no thickness is given');
  for (const t of options.thicknesses)
    if (!(t > 0 && t < Infinity)) throw new RangeError(`recogniseFeatures: thickness ${t} must be positive`);
  const courses = parts.flatMap((p) =>
    wallCoursesOf(p, thinnest(options.thicknesses)).slice(0, 1 + p.through.length),
  );
  const loose = looseWidths(courses, options.thicknesses, (t) => within(t, options.within));
  const all = parts.map((p) => featuresOfPart(p, options, loose));
  const halfRound = new Set(
    courses.filter(isHalfRoundEnded).map(({ course }) => `${course.part}|${course.contour}`),
  );
  const features = withoutGuides(
    all.flatMap((a) => a.features),
    halfRound,
  );
  const file = options.file === undefined ? {} : { file: options.file };
  // Where nothing follows a thickness it is the wrong one, and slots for another seem to lean.
  const said: Diagnostic[] = [
    ...(features.length === 0 ? [nothingFollows(options.thicknesses, file)] : []),
    ...(options.thicknesses.length === 1 && features.some((f) => f.follows)
      ? leaningSuspects(parts, options.thicknesses[0]!, features)
      : []
    ).map((l) => leaningSlots(l.part, l.entering, l.width, l.degrees, file)),
    ...loose.map((l) => looseSlots(l.slots, (l.from + l.to) / 2, l.thickness, file)),
  ];
  return ok(
    {
      format: 'haunch-features',
      version: 1,
      file: options.file ?? null,
      units: 'mm',
      thicknesses: [...options.thicknesses].sort((a, b) => a - b),
      features,
      reliefs: all.flatMap((a) => a.reliefs),
      outerSize: [],
    },
    said,
  );
}
