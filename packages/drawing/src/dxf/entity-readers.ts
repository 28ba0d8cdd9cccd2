import type { Point } from '@haunch/geometry';
import type { ArcEntity, CircleEntity, LineEntity } from '../drawing.js';
import { readEllipse, readSpline } from './curve-readers.js';
import { coloured, FLAT, heightOf, lieOf, placeOf, upward } from './entity-place.js';
import { readFilledQuad, readHatch } from './fill-readers.js';
import { insertReader } from './insert-reader.js';
import { plainMtext, plainText } from './plain-text.js';
import { readLwpolyline, readPolyline } from './polyline-readers.js';
import type { EntityReader, FollowingRecords } from './raw-entity.js';
import type { Tags } from './tags.js';

const DEGREE = Math.PI / 180;

const pointAt = (t: Tags, mirrored: boolean): Point => ({
  x: mirrored ? -t.number(10) + 0 : t.number(10),
  y: t.number(20),
});

// LINE, POINT and MTEXT are in world coordinates whatever their extrusion direction is.
const readLine: EntityReader = (t) => {
  const from = pointAt(t, false);
  const to = { x: t.number(11), y: t.number(21) };
  const elevation = heightOf(t);
  if (Math.abs(elevation - t.numberOr(31, elevation)) > FLAT) return 'not flat';
  if (from.x === to.x && from.y === to.y) return 'no size';
  // The commonest types are put together without spreads, which cost more than all the rest of the reading.
  const { layer, handle, line } = t;
  const depth = t.numberOr(39, 0);
  return coloured<LineEntity>(t, { kind: 'line', layer, handle, line, elevation, depth, from, to });
};

const readPoint: EntityReader = (t) => ({
  kind: 'point',
  ...placeOf(t, heightOf(t), false),
  at: pointAt(t, false),
});

function circleOf(t: Tags, lie: 'up' | 'mirrored'): CircleEntity | 'no size' {
  const mirrored = lie === 'mirrored';
  const centre = pointAt(t, mirrored);
  const radius = t.number(40);
  if (radius <= 0) return 'no size';
  const { layer, handle, line } = t;
  const elevation = upward(heightOf(t), mirrored);
  const depth = upward(t.numberOr(39, 0), mirrored);
  return coloured<CircleEntity>(t, { kind: 'circle', layer, handle, line, elevation, depth, centre, radius });
}

const readCircle: EntityReader = (t) => {
  const lie = lieOf(t);
  return lie === 'tilted' ? 'not flat' : circleOf(t, lie);
};

const readArc: EntityReader = (t) => {
  const lie = lieOf(t);
  if (lie === 'tilted') return 'not flat';
  const circle = circleOf(t, lie);
  if (circle === 'no size') return circle;
  const start = t.number(50) * DEGREE;
  const end = t.number(51) * DEGREE;
  const full = 2 * Math.PI;
  let sweep = (((end - start) % full) + full) % full;
  if (sweep < 1e-9 || full - sweep < 1e-9) {
    // Equal angles: the arc goes all the way round, as 0 to 360 degrees do.
    return circle;
  }
  if (sweep > full - 1e-4) sweep = full - 1e-4;
  // Seen from behind, an angle a is π − a and the arc runs from its end to its start.
  const a = lie === 'mirrored' ? Math.PI - end : start;
  const { layer, handle, line, elevation, depth, centre, radius } = circle;
  const on = (angle: number): Point => ({
    x: centre.x + radius * Math.cos(angle),
    y: centre.y + radius * Math.sin(angle),
  });
  return coloured<ArcEntity>(t, {
    kind: 'arc',
    layer,
    handle,
    line,
    elevation,
    depth,
    from: on(a),
    to: on(a + sweep),
    bulge: Math.tan(sweep / 4),
    centre,
    radius,
  });
};

const readText: EntityReader = (t) => {
  const lie = lieOf(t);
  if (lie === 'tilted') return 'not flat';
  const text = plainText(t.text(1));
  if (text.trim() === '') return 'no size';
  // Seen from behind, a direction a is π − a.
  const turn = lie === 'mirrored' ? Math.PI - t.numberOr(50, 0) * DEGREE : t.numberOr(50, 0) * DEGREE;
  return {
    kind: 'text',
    ...placeOf(t, heightOf(t), lie === 'mirrored'),
    at: pointAt(t, lie === 'mirrored'),
    text,
    height: Math.abs(t.numberOr(40, 1)),
    turn,
  };
};

const INVISIBLE = 1;
const CONSTANT = 2;

/** ATTRIB: what stands in the place of an attribute; lettering as any other unless it is hidden. */
const readAttribute: EntityReader = (t, following) =>
  (t.integerOr(70, 0) & INVISIBLE) !== 0 ? 'hidden' : readText(t, following);

/** ATTDEF: a place for attributes, which shows only where its text is the same in all references. */
const readAttributePlace: EntityReader = (t, following) => {
  const flags = t.integerOr(70, 0);
  return (flags & CONSTANT) !== 0 && (flags & INVISIBLE) === 0 ? readText(t, following) : 'annotation';
};

const NOTHING: FollowingRecords = {
  peek: () => null,
  take: () => {
    throw new RangeError('nothing follows');
  },
};

/** Explains the drawing, lays it out on paper or helps to construct it; nothing is cut by it. */
const readAnnotation: EntityReader = () => 'annotation';

const readMtext: EntityReader = (t) => {
  // Long contents come in pieces: groups 3, then the last piece in group 1.
  const pieces: string[] = [];
  for (let i = 0; i < t.count; i++) if (t.codeAt(i) === 3) pieces.push(t.textAt(i));
  const text = plainMtext([...pieces, t.text(1)].join(''));
  if (text === '') return 'no size';
  const turn = t.has(11) ? Math.atan2(t.numberOr(21, 0), t.numberOr(11, 1)) : t.numberOr(50, 0) * DEGREE;
  return {
    kind: 'text',
    ...placeOf(t, t.numberOr(30, 0), false),
    at: pointAt(t, false),
    text,
    height: Math.abs(t.numberOr(40, 1)),
    turn,
  };
};

const ANNOTATIONS = [
  'DIMENSION',
  'ARC_DIMENSION',
  'LARGE_RADIAL_DIMENSION',
  'LEADER',
  'MULTILEADER',
  'MLEADER',
  'TOLERANCE',
  'ACAD_TABLE',
  'VIEWPORT',
  'IMAGE',
  'WIPEOUT',
  'RAY',
  'XLINE',
] as const;

/** The types of entities that are read, by their names in the file. A new type is a new row. */
export const ENTITY_READERS: ReadonlyMap<string, EntityReader> = new Map<string, EntityReader>([
  ['LINE', readLine],
  // The name of lines in space up to release 10.
  ['3DLINE', readLine],
  ['ARC', readArc],
  ['CIRCLE', readCircle],
  ['LWPOLYLINE', readLwpolyline],
  ['POLYLINE', readPolyline],
  ['TEXT', readText],
  ['MTEXT', readMtext],
  ['POINT', readPoint],
  ['ELLIPSE', readEllipse],
  ['SPLINE', readSpline],
  ['HATCH', readHatch],
  ['SOLID', readFilledQuad],
  ['TRACE', readFilledQuad],
  ['INSERT', insertReader((t) => readAttribute(t, NOTHING))],
  ['ATTRIB', readAttribute],
  ['ATTDEF', readAttributePlace],
  ...ANNOTATIONS.map((type) => [type, readAnnotation] as const),
]);
