import type { Point } from '@haunch/geometry';
import { type Diagnostic, diagnosticsOf } from '@haunch/model';
import { type EntityRef, entityLocus, type Tally } from '../diagnostics.js';

const read = diagnosticsOf('read');
const times = (n: number, one: string, many = `${one}s`): string => (n === 1 ? `1 ${one}` : `${n} ${many}`);
const mm = (v: number): string => `${Number(v.toFixed(4))} mm`;
const place = (p: Point): string => `(${Number(p.x.toFixed(3))}, ${Number(p.y.toFixed(3))})`;
const names = (layers: readonly string[]): string => layers.map((l) => `'${l}'`).join(', ');

export const hiddenLayer = (file: string, layer: string, count: number): Diagnostic =>
  read(
    'note',
    'hidden-layer',
    `${times(count, 'entity', 'entities')} on layer '${layer}' left out: the layer is off or frozen.`,
    { file },
    'Switch the layer on in the drawing if it is to be cut.',
  );

export const doubledLines = (file: string, t: Tally, at: Point): Diagnostic =>
  read(
    'warning',
    'doubled-lines',
    `${times(t.count, 'entity', 'entities')} drawn a second time in the same place removed.`,
    { ...entityLocus(file, t.first), at },
    'Nothing is cut twice; delete the duplicates to silence this.',
  );

export const openOutline = (file: string, e: EntityRef, at: Point, to: Point, gap: number): Diagnostic =>
  read(
    'error',
    'open-outline',
    `A contour is open: its ends at ${place(at)} and ${place(to)} are ${mm(gap)} apart.`,
    { ...entityLocus(file, e), at },
    gap <= 1
      ? `Close it in the drawing, or allow gaps up to ${mm(Math.ceil(gap * 100) / 100)} to be joined.`
      : 'Draw the missing piece, or put lines that are not to be cut on a layer that is off.',
  );

export const moreOpenOutlines = (file: string, count: number): Diagnostic =>
  read(
    'error',
    'open-outline',
    `${times(count, 'further contour')} open, not listed one by one.`,
    { file },
    'Mend the listed ones first.',
  );

export const looseLine = (
  file: string,
  t: Tally,
  at: Point,
  where: { readonly inside: number; readonly outside: number },
): Diagnostic =>
  read(
    'warning',
    'loose-line',
    `${times(t.count, 'loose line')} left out: they bound no closed contour (${[
      where.inside > 0 ? `${where.inside} on parts, as engraving and scoring are` : '',
      where.outside > 0 ? `${where.outside} beside them, as construction lines are` : '',
    ]
      .filter((w) => w !== '')
      .join(', ')}).`,
    { ...entityLocus(file, t.first), at },
    'If something is to be cut there, draw it as a closed contour.',
  );

export const joinedGap = (file: string, count: number, widest: number, at: Point): Diagnostic =>
  read(
    'warning',
    'joined-gap',
    `${times(count, 'gap')} between line ends joined; the widest was ${mm(widest)}.`,
    { file, at },
    'Look at the place, and draw the ends together if it is not as meant.',
  );

export const sharedEdge = (file: string, e: EntityRef, at: Point, count: number): Diagnostic =>
  read(
    'warning',
    'shared-edge',
    `${times(count, 'edge')} drawn once for two neighbouring contours; each contour was given its own.`,
    { ...entityLocus(file, e), at },
    'Two parts cannot share a saw kerf of their own; lay them out apart before cutting.',
  );

export const selfCrossing = (file: string, e: EntityRef, at: Point): Diagnostic =>
  read(
    'error',
    'self-crossing',
    `A contour crosses itself at ${place(at)}.`,
    { ...entityLocus(file, e), at },
    'Draw it as one simple closed curve.',
  );

export const selfTouching = (file: string, e: EntityRef, at: Point, parted: boolean): Diagnostic =>
  read(
    'warning',
    'self-touching',
    `A contour touches itself, or runs back over itself, at ${place(at)}${parted ? '; it was parted there' : ''}.`,
    { ...entityLocus(file, e), at },
    parted
      ? 'Look at the place: a neck of no width was cut off, and lines drawn there and back fell away.'
      : 'Look at the place: lines that overlap there should be one, and a neck of no width should be cut off.',
  );

export const crossingCurves = (file: string, e: EntityRef, other: number, at: Point): Diagnostic =>
  read(
    'error',
    'crossing-curves',
    `Two contours cross each other at ${place(at)} (the other begins on line ${other}).`,
    { ...entityLocus(file, e), at },
    'Unite them in the drawing, or put each part on a layer of its own.',
  );

export const sheetBorder = (file: string, e: EntityRef, inside: number): Diagnostic =>
  read(
    'warning',
    'sheet-border',
    `A rectangle round ${times(inside, 'contour')} was taken for the border of a sheet and left out.`,
    entityLocus(file, e),
    'Delete it from the drawing, or switch its layer off, to silence this.',
  );

export const pocketRead = (
  file: string,
  e: EntityRef,
  part: string,
  count: number,
  shape: 'pocket' | 'blind hole',
  depth: number,
  layer: string | null,
): Diagnostic =>
  read(
    'note',
    'pocket',
    `${times(count, 'closed curve')} read as ${times(count, shape)} ${mm(depth)} deep, by ${layer === null ? 'its elevation below 0' : `its layer '${layer}'`}.`,
    { ...entityLocus(file, e), part },
    'Check the depth.',
  );

export const byLayerRead = (file: string, layers: number): Diagnostic =>
  read(
    'warning',
    'by-layer',
    `Each of the ${layers} layers was read by itself, because contours of different layers cover each other.`,
    { file },
    'If a layer holds recesses or holes instead of parts, say so with a rule, such as --layer HOUSING-8=pocket:8mm; a groove that overruns the edge would else be a part of its own.',
  );

export const pointsLeftOut = (file: string, t: Tally): Diagnostic =>
  read(
    'note',
    'point',
    `${times(t.count, 'point')} left out: nothing is cut at a point.`,
    entityLocus(file, t.first),
    'Draw a circle where a hole is wanted.',
  );

export const pocketWithoutDepth = (file: string, e: EntityRef, layer: string): Diagnostic =>
  read(
    'error',
    'pocket-without-depth',
    `A recess on layer '${layer}' states no depth.`,
    entityLocus(file, e),
    'Give the curve an elevation below 0 (group 38), or a depth (group 39).',
  );

export const pocketTooDeep = (
  file: string,
  e: EntityRef,
  part: string,
  shape: 'pocket' | 'blind hole',
  depth: number,
  thickness: number,
): Diagnostic =>
  read(
    'error',
    'pocket-too-deep',
    `A ${shape} is ${mm(depth)} deep in a part that is ${mm(thickness)} thick.`,
    { ...entityLocus(file, e), part },
    depth === thickness
      ? 'If it is to go right through, draw it as a cut, or give its layer the rule cut.'
      : 'Correct the depth or the thickness, and check the unit of both.',
  );

export const cutThrough = (file: string, t: Tally, at: Point, layer: string, recess: boolean): Diagnostic =>
  read(
    recess ? 'warning' : 'note',
    'cut-through',
    `${times(t.count, 'closed curve')} on layer '${layer}' cut${t.count === 1 ? 's' : ''} through parts that are drawn on other layers: no rule says what the layer holds${recess ? ', and its name sounds like recesses' : ''}.`,
    { ...entityLocus(file, t.first), at },
    `Say what it holds with a rule, such as --layer "${layer}=pocket:6mm" or --layer "${layer}=cut".`,
  );

export const strayFeature = (file: string, e: EntityRef, layer: string): Diagnostic =>
  read(
    'warning',
    'stray-feature',
    `A recess on layer '${layer}' lies in no part and was left out.`,
    entityLocus(file, e),
    'Move it into its part, or delete it.',
  );

export const noParts = (file: string): Diagnostic =>
  read(
    'error',
    'no-parts',
    'The drawing holds no closed contour, so no part.',
    { file },
    'Outlines must be closed curves of lines, arcs, circles or polylines on layers that are on.',
  );

export const renamedPart = (file: string, e: EntityRef, part: string, layer: string): Diagnostic =>
  read(
    'note',
    'renamed-part',
    `The part on layer '${layer}' is called '${part}', so that its name is unique and does not look like a number.`,
    { ...entityLocus(file, e), part },
    'Rename the layer for another name.',
  );

// ---- Repairs ----------------------------------------------------------------------------------------

export const partedLines = (file: string, t: Tally, at: Point): Diagnostic =>
  read(
    'warning',
    'parted-line',
    `${times(t.count, 'line')} parted where another line ends on ${t.count === 1 ? 'it' : 'them'}, so that contours close.`,
    { ...entityLocus(file, t.first), at },
    'Look at the place: a line from edge to edge of a contour was taken for a cut that parts it in two. If it is to be engraved, put it on a layer of its own.',
  );

export const arcsRecovered = (file: string, t: Tally, at: Point, chords: number, most: number): Diagnostic =>
  read(
    'note',
    'arcs-recovered',
    `${times(t.count, 'arc')} read where ${times(chords, 'short line')} ${chords === 1 ? 'was' : 'were'} drawn; no arc is further than ${mm(most)} from its lines.`,
    { ...entityLocus(file, t.first), at },
    'If a polygon is meant instead, keep it as it is drawn.',
  );

export const edgesMerged = (file: string, t: Tally, at: Point, most: number): Diagnostic =>
  read(
    'note',
    'edges-merged',
    `${times(t.count, 'run')} of edges in one line, or of arcs of one circle, made one edge each, within ${mm(most)}.`,
    { ...entityLocus(file, t.first), at },
    'Nothing needs to be done.',
  );

export const reliefCircles = (file: string, t: Tally, at: Point): Diagnostic =>
  read(
    'note',
    'relief-circles',
    `${times(t.count, 'circle')} drawn over ${t.count === 1 ? 'an inside corner' : 'inside corners'} united with the contour there, as ${t.count === 1 ? 'the relief' : 'reliefs'} for a round cutter.`,
    { ...entityLocus(file, t.first), at },
    'If a hole of its own is meant, move it off the corner.',
  );

export const tinyEdges = (file: string, t: Tally, at: Point, longest: number): Diagnostic =>
  read(
    'note',
    'tiny-edge',
    `${times(t.count, 'tiny edge')} dropped; the longest was ${mm(longest)}.`,
    { ...entityLocus(file, t.first), at },
    'Nothing needs to be done; draw corners as single points to silence this.',
  );

export const gapsLeftOut = (file: string, t: Tally, at: Point, thickness: number): Diagnostic =>
  read(
    'warning',
    'gap-between-parts',
    `${times(t.count, 'contour')} enclosed by neighbours that share ${t.count === 1 ? 'its' : 'their'} edges, no wider than twice ${mm(thickness)}, taken for ${times(t.count, 'gap').replace(/^\d+ /, '')} between parts and left out.`,
    { ...entityLocus(file, t.first), at },
    'If they are parts, keep them as they are drawn, or draw parts apart from each other.',
  );

export const engravingLeftOut = (file: string, t: Tally, at: Point): Diagnostic =>
  read(
    'warning',
    'engraving',
    `${times(t.count, 'closed curve')} on one part drawn with splines for the most part, unlike its outline, taken for engraving and left out.`,
    { ...entityLocus(file, t.first), at },
    'If they are to be cut through, keep them as they are drawn, or put them on a layer with a rule that says so.',
  );

export const layerAssumed = (
  file: string,
  layer: string,
  count: number,
  as: 'engrave' | 'leave out',
): Diagnostic =>
  read(
    'warning',
    'layer-assumed',
    `${times(count, 'entity', 'entities')} on layer '${layer}' left out: by its name it holds ${as === 'engrave' ? 'engraving' : 'lines that are not cut'}.`,
    { file },
    `Say what the layer holds with a rule: { "as": "cut" } or { "as": "${as}" }.`,
  );

export const layerRuled = (
  file: string,
  layer: string,
  count: number,
  as: 'engrave' | 'leave out',
): Diagnostic =>
  read(
    'note',
    'layer-left-out',
    `${times(count, 'entity', 'entities')} on layer '${layer}' left out, as the rule for it ('${as}') says.`,
    { file },
    'Nothing needs to be done.',
  );

export const layerUnknown = (file: string, layer: string, known: readonly string[]): Diagnostic =>
  read(
    'warning',
    'layer-unknown',
    `There is a rule for layer '${layer}', on which nothing is drawn.`,
    { file },
    known.length === 0
      ? 'Nothing is drawn on any layer.'
      : `Layers with something on them: ${names(known.slice(0, 12))}${known.length > 12 ? ' …' : ''}.`,
  );

export const allHidden = (file: string, layers: number): Diagnostic =>
  read(
    'warning',
    'all-hidden',
    `Everything is on layers that are off or frozen, so all ${layers} of them were read.`,
    { file },
    'Switch on the layers that are to be cut, or say with rules which are not.',
  );

export const keepUnknown = (file: string, id: string): Diagnostic =>
  read(
    'warning',
    'keep-unknown',
    `Repair '${id}' was not to be made, but the drawing needs no such repair.`,
    { file },
    'Repairs are called as the import report of this drawing calls them.',
  );

export const partLimit = (file: string, what: string): Diagnostic =>
  read(
    'error',
    'part-limit',
    `The drawing is beyond what parts are looked for in: ${what}.`,
    { file },
    'Leave out what is not to be cut, or split the drawing.',
  );
