import {
  cornerRelief,
  type Point,
  type Ring,
  rectangleRing,
  relieveRing,
  ring,
  ringSegments,
  snap,
  snapRing,
} from '@haunch/geometry';
import type { Contour, Part, Pocket, Relief, ReliefForm } from '@haunch/model';
import { type LadderSteps, type Rung, rungsOf } from './rungs.js';

/** What a ladder is made for. mm. */
export interface LadderSpec {
  readonly steps: LadderSteps;
  /** The sheet's thickness where the ladder will lie. */
  readonly thickness: number;
  /** The cutter with which the joints will be cut. */
  readonly cutterDiameter: number;
  /** Width of the slot and of the peg that tell the cutter's diameter. */
  readonly gaugeWidth?: number;
  /** How the job relieves inside corners; no relieved rung when left out. */
  readonly relief?: { readonly form: ReliefForm; readonly radius: number; readonly surplus: number };
  /** Depth of a housing, mm; no housing when left out. */
  readonly housingDepth?: number;
  readonly stock?: string;
}

/** A place of a ladder that is tried but says nothing of clearances. mm */
export interface TriedPlace {
  readonly id: string;
  readonly clearance: number;
}

/** The parts of a ladder, and what is tried and measured on them. */
export interface Ladder {
  readonly kind: 'ladder';
  readonly parts: readonly Part[];
  readonly rungs: readonly Rung[];
  readonly gaugeWidth: number;
  /** A rung of the middle clearance with relieved corners, in which the plug must bottom; null where none was asked for, or two reliefs have no room side by side. */
  readonly relieved: TriedPlace | null;
  /** A housing of the middle clearance, to whose floor the plug's end must go down; null where none was asked for. */
  readonly housing: (TriedPlace & { readonly depth: number }) | null;
  /** Where the name of each rung, of the notch and the peg for the calliper, of r1 and of h1 stands beside it, in the comb's plane. */
  readonly names: readonly { readonly id: string; readonly at: Point }[];
  /** Edges that a plug or a calliper touches: no tab may stand there. */
  readonly mating: readonly string[];
}

/** Depth of a rung, the bar between two rungs, and the strip that holds them together. mm; a bar as wide as the sheet is thick does not spring. */
const RUNG_DEPTH = 30;
const BACK = 25;
const PLUG = { width: 60, length: 90 };
const CUT_CORNER = 12;
/** Material between the housing and the notches above it. mm */
const HOUSING_WEB = 10;
/** A stretch of border at least this long may bear a tab. mm */
const TAB_STRETCH = 40;

/** How far from its rung a name stands. mm */
const NAME_GAP = 7;
const beside = (id: string, x: number, y: number): { id: string; at: Point } => ({
  id,
  at: { x: snap(x), y: snap(y) },
});

const tagged = (id: string, corners: readonly Point[]): Contour => {
  const r: Ring = ring(
    corners.map(({ x, y }, k) => ({ x: snap(x), y: snap(y), bulge: 0, tag: `${id}/e${k}` })),
  );
  return { id, ring: r, bare: r, reliefs: [] };
};

const plate = (
  id: string,
  name: string,
  spec: LadderSpec,
  outline: Contour,
  holes: Part['holes'] = [],
  pockets: Part['pockets'] = [],
): Part => ({
  kind: 'part',
  id,
  name,
  thickness: spec.thickness,
  // Lies as drawn: rungs across X must be cut across X.
  grain: null,
  cutFace: 'n+',
  showFace: null,
  stock: spec.stock ?? null,
  outline,
  through: [],
  pockets,
  holes,
  from: ['ladder'],
});

/** How wide a notch must be for the discs in its two floor corners to lie apart, mm. */
const reliefRoom = ({ form, radius }: NonNullable<LadderSpec['relief']>): number =>
  (form === 'along the wall' ? 4 : 2 + Math.SQRT2) * radius + 0.2;

/**
 * An outline with the two floor corners of one notch relieved; a relief along the wall leaves the grip faces whole.
 * @throws RangeError where the cutter has no room for it
 */
function withRelief(
  outline: Contour,
  corners: readonly [Point, Point],
  { form, radius, surplus }: NonNullable<LadderSpec['relief']>,
): Contour {
  const segments = ringSegments(outline.ring);
  const reliefs = corners.map((corner, k): Relief => {
    const i = segments.findIndex((s) => s.to.x === corner.x && s.to.y === corner.y);
    const [before, after] = [segments[i]!, segments[(i + 1) % segments.length]!];
    const guide = k === 0 ? 'before' : 'after';
    const disc = cornerRelief({ before, after, air: 'right', radius, surplus, form, guide });
    if ('problem' in disc) throw new RangeError(`ladderParts: ${disc.problem}`);
    return { form, corner, ...disc, edges: [before.tag!, after.tag!] };
  });
  const discs = reliefs.map((r, k) => ({ ...r, tag: `${outline.id}/r${k}` }));
  const relieved = relieveRing(outline.bare, 'outside', discs);
  if ('problem' in relieved) throw new RangeError(`ladderParts: ${relieved.problem}`);
  return { ...outline, ring: snapRing(relieved.ring), reliefs };
}

/** One stretch of the plate's edge: from where it stands a notch of this width, or straight on. */
interface Notch {
  readonly at: number;
  readonly width: number;
}

/** Notches of these widths set out along an edge, with a bar before each and after the last. */
function setOut(
  widths: readonly number[],
  bar: number,
): { readonly notches: readonly Notch[]; readonly length: number } {
  let at = bar;
  const notches = widths.map((width) => {
    const notch = { at, width };
    at += width + bar;
    return notch;
  });
  return { notches, length: at };
}

/**
 * A ladder as flat parts in their own plane: a comb whose lower edge holds the rungs across X (`x1` at the cut-off corner,
 * each next one step wider) and whose right edge holds those across Y (`y1` lowest); on its upper edge a notch and
 * a peg of `gaugeWidth` for the cutter's diameter, beside them a rung with relieved corners (`r1`), below them a housing (`h1`) where they are
 * asked for; and a plug of the same sheet with two square corners. A hole marks the
 * rung that the job would use without a ladder, so that no text is needed. Must be laid unturned. mm.
 * @throws RangeError when a rung would be narrower than the cutter.
 */
export function ladderParts(spec: LadderSpec): Ladder {
  const rungs = rungsOf(spec.steps);
  const gaugeWidth = spec.gaugeWidth ?? snap(spec.cutterDiameter * 2 + 8);
  const widthOf = (r: Rung): number => snap(spec.thickness + r.clearance);
  const narrow = rungs.find((r) => widthOf(r) < spec.cutterDiameter);
  if (narrow) throw new RangeError(`ladderParts: rung ${narrow.id} is narrower than the cutter`);
  const bar = snap(Math.max(spec.thickness, 12));
  const across = (axis: 'x' | 'y'): number[] => rungs.filter((r) => r.axis === axis).map(widthOf);
  const low = setOut(across('x'), bar);
  const right = setOut(across('y'), bar);
  const top = setOut([gaugeWidth], bar);
  const gap = snap(Math.max(gaugeWidth, spec.cutterDiameter * 1.5));
  const pegFrom = snap(top.length + gap);
  const pegTo = snap(pegFrom + gaugeWidth);
  // Rungs of the lower and the right edge lie side by side; those of the upper edge are kept clear of both.
  const middleClearance = spec.steps.about;
  const plugSlot = snap(spec.thickness + middleClearance);
  const forHousing = spec.housingDepth === undefined ? 0 : 2 * RUNG_DEPTH + BACK + HOUSING_WEB + plugSlot;
  const height = snap(Math.max(right.length, 2 * RUNG_DEPTH + BACK, forHousing));
  const relievedFrom = snap(pegTo + gap + bar);
  const relievedTo = snap(relievedFrom + plugSlot);
  const relief = spec.relief && plugSlot > reliefRoom(spec.relief) ? spec.relief : undefined;
  const topEnd = relief ? relievedTo + bar : pegTo + gap + bar;
  const width = snap(Math.max(low.length, topEnd) + RUNG_DEPTH);
  const corners: Point[] = [
    { x: 0, y: CUT_CORNER },
    { x: CUT_CORNER, y: 0 },
  ];
  for (const { at, width: w } of low.notches)
    corners.push(
      { x: at, y: 0 },
      { x: at, y: RUNG_DEPTH },
      { x: at + w, y: RUNG_DEPTH },
      { x: at + w, y: 0 },
    );
  corners.push({ x: width, y: 0 });
  for (const { at, width: w } of right.notches)
    corners.push(
      { x: width, y: at },
      { x: width - RUNG_DEPTH, y: at },
      { x: width - RUNG_DEPTH, y: at + w },
      { x: width, y: at + w },
    );
  corners.push({ x: width, y: height });
  // Leftwards along the upper edge: the peg stands between two cut-outs as wide as the notch, then the notch itself.
  const wall = snap(height - RUNG_DEPTH);
  if (relief)
    corners.push(
      { x: relievedTo, y: height },
      { x: relievedTo, y: wall },
      { x: relievedFrom, y: wall },
      { x: relievedFrom, y: height },
    );
  corners.push(
    { x: pegTo + gap, y: height },
    { x: pegTo + gap, y: wall },
    { x: pegTo, y: wall },
    { x: pegTo, y: height },
    { x: pegFrom, y: height },
    { x: pegFrom, y: wall },
  );
  corners.push({ x: top.length, y: wall }, { x: top.length, y: height });
  for (const { at, width: w } of top.notches)
    corners.push({ x: at + w, y: height }, { x: at + w, y: wall }, { x: at, y: wall }, { x: at, y: height });
  corners.push({ x: 0, y: height });
  const marked = rungs.findIndex(
    (r) => r.axis === 'x' && Math.abs(r.clearance - spec.steps.about) < spec.steps.step / 2,
  );
  const middle = low.notches[marked];
  const hole = middle && {
    id: 'ladder.mark',
    centre: { x: snap(middle.at + middle.width / 2), y: RUNG_DEPTH + BACK / 2 },
    diameter: snap(spec.cutterDiameter * 1.25),
    face: 'n+' as const,
    depth: 'through' as const,
  };
  const floorOf = (depth: number): Pocket => {
    // Longer than the plug is wide by the cutter's two rounded corners.
    const to = { x: snap(bar + PLUG.width + spec.cutterDiameter + 4), y: snap(wall - HOUSING_WEB) };
    const r = rectangleRing(bar, snap(to.y - plugSlot), to.x, to.y);
    const vertices = r.vertices.map((v, k) => ({ ...v, tag: `ladder.h1/e${k}` }));
    const contour = ring(vertices);
    return { id: 'ladder.h1', ring: contour, bare: contour, reliefs: [], face: 'n+', depth };
  };
  const housing = spec.housingDepth === undefined ? undefined : floorOf(spec.housingDepth);
  const bare = tagged('ladder.outline', corners);
  const outline = relief
    ? withRelief(
        bare,
        [
          { x: relievedTo, y: wall },
          { x: relievedFrom, y: wall },
        ],
        relief,
      )
    : bare;
  const comb = plate('ladder', 'Ladder', spec, outline, hole ? [hole] : [], housing ? [housing] : []);
  const plug = plate(
    'ladder-plug',
    'Plug',
    spec,
    tagged('ladder-plug.outline', [
      { x: 0, y: 0 },
      { x: PLUG.width, y: 0 },
      { x: PLUG.width, y: PLUG.length },
      { x: 0, y: PLUG.length },
    ]),
  );
  // All of the comb but the long stretches of its border, and the plug's corners' long sides.
  const border = (a: Point, b: Point): boolean =>
    (a.x === b.x && (a.x === 0 || a.x === width)) || (a.y === b.y && (a.y === 0 || a.y === height));
  const mating = ringSegments(comb.outline.bare)
    .filter((s) => !(border(s.from, s.to) && Math.hypot(s.to.x - s.from.x, s.to.y - s.from.y) >= TAB_STRETCH))
    .map((s) => s.tag!);
  return {
    kind: 'ladder',
    parts: [comb, plug],
    rungs,
    gaugeWidth,
    relieved: relief ? { id: 'r1', clearance: middleClearance } : null,
    housing: housing ? { id: 'h1', clearance: middleClearance, depth: housing.depth } : null,
    names: [
      ...rungs
        .filter((r) => r.axis === 'x')
        .map(({ id }, i) =>
          beside(id, low.notches[i]!.at + low.notches[i]!.width / 2, RUNG_DEPTH + NAME_GAP),
        ),
      ...rungs
        .filter((r) => r.axis === 'y')
        .map(({ id }, i) =>
          beside(id, width - RUNG_DEPTH - NAME_GAP, right.notches[i]!.at + right.notches[i]!.width / 2),
        ),
      beside('slot', bar + gaugeWidth / 2, wall - NAME_GAP),
      beside('peg', (pegFrom + pegTo) / 2, wall - NAME_GAP),
      ...(relief ? [beside('r1', (relievedFrom + relievedTo) / 2, wall - NAME_GAP)] : []),
      ...(housing ? [beside('h1', bar + 8, wall - HOUSING_WEB - plugSlot / 2)] : []),
    ],
    mating: [...mating, ...outline.reliefs.map((_, k) => `${outline.id}/r${k}`)],
  };
}
