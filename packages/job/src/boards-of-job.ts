import {
  type BoardMotion,
  checkOffCut,
  findSwapped,
  fitThicknessMap,
  inheritMap,
  inOffCut,
  type MapOptions,
  type ThicknessReading,
} from '@haunch/gauge';
import {
  circleRing,
  type Point,
  pointInRing,
  pointRingDistance,
  type Ring,
  rectangleRing,
  snap,
} from '@haunch/geometry';
import {
  type Board,
  type Diagnostic,
  type FaceDefect,
  fail,
  formatJsonPath,
  type Locus,
  type Outcome,
  settle,
  type ThicknessMap,
  thicknessAt,
} from '@haunch/model';
import { isWhole, outlineOf, placesOn } from './board-outline.js';
import type { JobBoard, JobOffCut, JobReading } from './job-schema.js';
import {
  defectOffBoard,
  keepOutOffBoard,
  pinNotMet,
  pinOffBoard,
  stopOffEdge,
  stopsDoNotLocate,
} from './programs/diagnostics.js';

type Rectangle = readonly [number, number, number, number];

const readingOf = (r: JobReading): ThicknessReading =>
  typeof r === 'number' ? { thickness: r } : { thickness: r.thickness, at: { x: r.at[0], y: r.at[1] } };

/** How an off-cut lay in its sheet. mm, radians */
export const motionOf = ({ at: [x, y], turnDegrees, turnedOver }: JobOffCut): BoardMotion => ({
  turnedOver,
  turn: (turnDegrees * Math.PI) / 180,
  x,
  y,
});

/** A board's readings in its own coordinates: those of an off-cut's sheet as they lie from the off-cut's corner. */
function readingsOf({ readings, offCutOf }: JobBoard): ThicknessReading[] {
  if (!offCutOf) return readings.map(readingOf);
  const motion = motionOf(offCutOf);
  return offCutOf.readings.map(readingOf).map(({ thickness, at }) => ({
    thickness,
    ...(at === undefined ? {} : { at: inOffCut(motion, at) }),
  }));
}

/** The mean of a map over a rectangle from (0, 0). */
function meanOf(map: ThicknessMap, width: number, height: number): number {
  const at = (x: number, y: number): number => thicknessAt(map, { x, y }).thickness;
  // Simpson's rule in both directions is exact for a surface of second order.
  const weights = [1, 4, 1];
  let sum = 0;
  weights.forEach((wx, i) => {
    weights.forEach((wy, j) => {
      sum += wx * wy * at((i * width) / 2, (j * height) / 2);
    });
  });
  return sum / 36;
}

/** The mean of a map over a board. */
function meanOver(map: ThicknessMap, outline: Ring, { width, height }: JobBoard): number {
  if (isWhole({ outline })) return meanOf(map, width, height);
  const places = placesOn(outline);
  return places.reduce((sum, p) => sum + thicknessAt(map, p).thickness, 0) / places.length;
}

/** The map of one board of a job: of its own readings, or of the sheet that it was cut from. */
function mapOf(board: JobBoard, outline: Ring, locus: Locus): Outcome<ThicknessMap> {
  const { nominal, standard, repeatability } = board;
  const options: MapOptions = {
    locus,
    ...(nominal === undefined ? {} : { nominal }),
    ...(standard === undefined ? {} : { standard }),
    ...(repeatability === undefined ? {} : { repeatability }),
  };
  const { offCutOf } = board;
  const outside = offCutOf
    ? checkOffCut(board, motionOf(offCutOf), rectangleRing(0, 0, offCutOf.width, offCutOf.height), locus)
    : [];
  if (outside.length > 0) return fail(...outside);
  if (!offCutOf)
    return fitThicknessMap(
      board.readings.map(readingOf),
      board.outline === undefined ? rectangleRing(0, 0, board.width, board.height) : outline,
      options,
    );
  const parent = fitThicknessMap(
    offCutOf.readings.map(readingOf),
    rectangleRing(0, 0, offCutOf.width, offCutOf.height),
    options,
  );
  if (!parent.ok) return parent;
  return settle(inheritMap(parent.value, motionOf(offCutOf)), parent.diagnostics);
}

/** The names of a board and of those that are like it. */
export const copiesOf = ({ id, count }: Pick<JobBoard, 'id' | 'count'>): string[] =>
  Array.from({ length: count }, (_, i) => (i === 0 ? id : `${id}-${i + 1}`));

/** What the area of an off-cut counts beside that of a sheet: it is used up first where it saves as much. Common practice, no source. */
const OFF_CUT_COST = 0.5;

/** What the area of each board counts, copies and all. */
export const costsOf = (boards: readonly JobBoard[]): ReadonlyMap<string, number> =>
  new Map(
    boards.flatMap((b) => copiesOf(b).map((id) => [id, b.cost ?? (b.offCutOf ? OFF_CUT_COST : 1)] as const)),
  );

/** What a board's keep-outs are called in the job, and the box of each. */
function namedKeepOuts(b: JobBoard): { readonly path: readonly PropertyKey[]; readonly box: Rectangle }[] {
  const named = (name: string, boxes: readonly Rectangle[]) =>
    boxes.map((box, i) => ({ path: [name, i], box }));
  return [
    ...named('keepOuts', b.keepOuts),
    ...named('zones', b.zones),
    ...named(
      'screws',
      b.screws.map(
        ({ at: [x, y], head }): Rectangle => [x - head / 2, y - head / 2, x + head / 2, y + head / 2],
      ),
    ),
  ];
}

/** How far a stop may be from the edge that it touches, mm. */
const STOP_TOUCHES = 0.5;

/** Which edge of a board a place lies on, how far off it is, and which way is out. */
function edgeAt(
  { width, height }: Pick<JobBoard, 'width' | 'height'>,
  { x, y }: Point,
): { readonly edge: 'left' | 'right' | 'lower' | 'upper'; readonly gap: number; readonly outward: Point } {
  const beside = (v: number, most: number): number => Math.max(0, -v, v - most);
  const all = [
    { edge: 'left' as const, gap: Math.abs(x) + beside(y, height), outward: { x: -1, y: 0 } },
    { edge: 'right' as const, gap: Math.abs(x - width) + beside(y, height), outward: { x: 1, y: 0 } },
    { edge: 'lower' as const, gap: Math.abs(y) + beside(x, width), outward: { x: 0, y: -1 } },
    { edge: 'upper' as const, gap: Math.abs(y - height) + beside(x, width), outward: { x: 0, y: 1 } },
  ];
  return all.reduce((best, e) => (e.gap < best.gap ? e : best));
}

const stopsOf = (turnOver: JobBoard['turnOver']): Point[] =>
  (turnOver?.stops ?? []).map(([x, y]) => ({ x, y }));

/**
 * Stops that touch no edge, and stops that do not say how the sheet lies: two on one of the edges that stay on their side when it is turned
 * (they keep it straight by the same edge), and one on an edge that changes sides.
 */
function stopProblems(
  { id, turnOver, width, height }: JobBoard,
  outline: Ring,
  locusOf: (path: readonly PropertyKey[]) => Locus,
): Diagnostic[] {
  const stops = stopsOf(turnOver);
  if (turnOver === undefined || stops.length === 0) return [];
  const on = stops.map((p) => edgeAt({ width, height }, p));
  const stray = on.flatMap(({ gap }, i) =>
    gap > STOP_TOUCHES || pointRingDistance(outline, stops[i]!) > STOP_TOUCHES
      ? [stopOffEdge(id, stops[i]!, [width, height], locusOf(['turnOver', 'stops', i]))]
      : [],
  );
  if (stray.length > 0) return stray;
  const count = (edge: string): number => on.filter((e) => e.edge === edge).length;
  const [staying, changing] =
    turnOver.axis === 'y'
      ? [
          ['lower', 'upper'],
          ['left', 'right'],
        ]
      : [
          ['left', 'right'],
          ['lower', 'upper'],
        ];
  const straight = staying.filter((e) => count(e) >= 2).length === 1 && staying.some((e) => count(e) === 0);
  const aside = changing.filter((e) => count(e) >= 1).length === 1;
  return straight && aside
    ? []
    : [stopsDoNotLocate(id, turnOver.axis, staying, changing, locusOf(['turnOver', 'stops']))];
}

/** Where no cutter may enter: rectangles, heads of screws, seals and pods of a vacuum bed. */
const keepOutsOf = ({ keepOuts, screws, zones, turnOver, width, height }: JobBoard): Board['keepOuts'] => [
  ...[...keepOuts, ...zones].map(([x0, y0, x1, y1]) =>
    rectangleRing(Math.min(x0, x1), Math.min(y0, y1), Math.max(x0, x1), Math.max(y0, y1)),
  ),
  ...screws.map(({ at: [x, y], head }) => circleRing({ x, y }, head / 2)),
  ...stopsOf(turnOver).map(({ x, y }) => {
    // A stop stands beside the sheet and touches it.
    const { outward } = edgeAt({ width, height }, { x, y });
    const r = turnOver!.diameter / 2;
    return circleRing({ x: x + outward.x * r, y: y + outward.y * r }, r);
  }),
  ...(turnOver?.pins ?? []).map(([x, y]) => circleRing({ x, y }, turnOver!.diameter / 2)),
];

/** A hole may touch the edge of its board, but for rounding. mm */
const TOUCH = 1e-6;

/** How far a pin may be from the mirror image of one, mm: less than a hole's play. Common practice, no source. */
const PIN_PLAY = 0.02;

/** Pins that are off the board, or are met by no pin when the sheet is turned over. */
function pinProblems(
  { id, turnOver, width, height }: JobBoard,
  outline: Ring,
  locusOf: (path: readonly PropertyKey[]) => Locus,
): Diagnostic[] {
  if (turnOver?.pins === undefined) return [];
  const { axis, pins, diameter } = turnOver;
  return pins.flatMap(([x, y], i): Diagnostic[] => {
    const locus = locusOf(['turnOver', 'pins', i]);
    const r = diameter / 2;
    const hole = { x, y };
    if (pointInRing(outline, hole) !== 'inside' || pointRingDistance(outline, hole) < r - TOUCH)
      return [pinOffBoard(id, [x, y], [width, height], locus)];
    const [u, v] = axis === 'y' ? [width - x, y] : [x, height - y];
    const met = pins.some(([p, q]) => Math.hypot(p - u, q - v) <= PIN_PLAY);
    return met ? [] : [pinNotMet(id, [x, y], [u, v], axis, locus)];
  });
}

/** Keep-outs that do not touch their board at all: somebody counts from another corner. */
const strayKeepOuts = (b: JobBoard, locusOf: (path: readonly PropertyKey[]) => Locus): Diagnostic[] =>
  namedKeepOuts(b)
    .filter(
      ({ box: [x0, y0, x1, y1] }) =>
        Math.max(x0, x1) < 0 ||
        Math.max(y0, y1) < 0 ||
        Math.min(x0, x1) > b.width ||
        Math.min(y0, y1) > b.height,
    )
    .map(({ path, box }) => keepOutOffBoard(b.id, box, [b.width, b.height], locusOf(path)));

/** The flaws of a board, one for each face that they are seen on. */
const defectsOf = ({ defects }: JobBoard): FaceDefect[] =>
  defects.flatMap(({ box: [x0, y0, x1, y1], face }) =>
    (face === 'both' ? (['up', 'down'] as const) : [face]).map((on) => ({
      outline: rectangleRing(Math.min(x0, x1), Math.min(y0, y1), Math.max(x0, x1), Math.max(y0, y1)),
      face: on,
    })),
  );

/** Flaws that do not touch their board at all, or are no rectangles. */
const strayDefects = (b: JobBoard, locusOf: (path: readonly PropertyKey[]) => Locus): Diagnostic[] =>
  b.defects.flatMap(({ box }, i) => {
    const [x0, y0, x1, y1] = box;
    const off =
      x0 === x1 ||
      y0 === y1 ||
      Math.max(x0, x1) <= 0 ||
      Math.max(y0, y1) <= 0 ||
      Math.min(x0, x1) >= b.width ||
      Math.min(y0, y1) >= b.height;
    return off ? [defectOffBoard(b.id, box, locusOf(['defects', i]))] : [];
  });

/** The boards of a job, copies and all, each with its thickness map. What the readings are refused for is in `problems`. */
export function boardsOfJob(
  boards: readonly JobBoard[],
  file: string,
  lineOf: (path: readonly PropertyKey[]) => number,
): { readonly boards: Board[]; readonly problems: Diagnostic[] } {
  const problems: Diagnostic[] = [];
  const locusOf = (b: JobBoard, index: number): Locus => {
    const told = b.offCutOf ? ['offCutOf', 'readings'] : b.readings.length > 0 ? ['readings'] : [];
    return { file, line: lineOf(['boards', index, ...told]), board: b.id };
  };
  const swapped = findSwapped(
    boards.flatMap((b, index) =>
      b.offCutOf
        ? []
        : [
            {
              id: b.id,
              readings: b.readings.map(readingOf),
              locus: locusOf(b, index),
              ...(b.nominal === undefined ? {} : { nominal: b.nominal }),
            },
          ],
    ),
  );
  problems.push(...swapped.map((s) => s.diagnostic));
  const outlines = boards.map((b, index): Ring | undefined => {
    const placeOf = (path: readonly PropertyKey[]): Locus => ({
      file,
      line: lineOf(['boards', index, ...path]),
      path: formatJsonPath(['boards', index, ...path]),
      board: b.id,
    });
    const outline = outlineOf(b, placeOf);
    problems.push(...outline.diagnostics, ...strayKeepOuts(b, placeOf), ...strayDefects(b, placeOf));
    if (!outline.ok) return undefined;
    problems.push(...pinProblems(b, outline.value, placeOf), ...stopProblems(b, outline.value, placeOf));
    return outline.value;
  });
  const misnamed = new Set(swapped.flatMap((s) => s.boards));
  const made = boards.flatMap((b, index) => {
    // Readings of another board are impossible here, which would only say the same again.
    const outline = outlines[index];
    if (misnamed.has(b.id) || !outline) return [];
    const map = mapOf(b, outline, locusOf(b, index));
    problems.push(...map.diagnostics);
    if (!map.ok) return [];
    const readings = readingsOf(b);
    const thickness = snap(meanOver(map.value, outline, b));
    return copiesOf(b).map(
      (id): Board => ({
        id,
        stock: b.stock ?? b.id,
        outline,
        thickness,
        map: map.value,
        readings,
        grain: b.grain === 'none' ? null : b.grain,
        keepOuts: keepOutsOf(b),
        ...(b.defects.length === 0 ? {} : { defects: defectsOf(b) }),
        ...(b.trims.length === 0 ? {} : { trims: b.trims }),
        ...(b.screws.length === 0
          ? {}
          : { screws: b.screws.map(({ at: [x, y], head }) => ({ at: { x, y }, head })) }),
        ...(b.turnOver === undefined
          ? {}
          : {
              turnOver: {
                axis: b.turnOver.axis,
                pins: (b.turnOver.pins ?? []).map(([x, y]) => ({ x, y })),
                ...(b.turnOver.stops === undefined ? {} : { stops: stopsOf(b.turnOver) }),
                diameter: b.turnOver.diameter,
              },
            }),
        ...(b.sheet === undefined ? {} : { sheet: b.sheet }),
      }),
    );
  });
  return { boards: made, problems };
}
