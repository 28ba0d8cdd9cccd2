import { type Diagnostic, diagnosticsOf, type Locus } from '@haunch/model';

const read = diagnosticsOf('read');
const times = (n: number, one: string, many = `${one}s`): string => (n === 1 ? `1 ${one}` : `${n} ${many}`);
const mm = (v: number): string => `${Number(v.toFixed(4))} mm`;

/** What is needed of an entity to point at it. */
export interface EntityRef {
  readonly line: number;
  readonly handle: string | null;
}

/** Where an entity stands, as a locus. */
export const entityLocus = (file: string, e: EntityRef): Locus => ({
  file,
  line: e.line,
  ...(e.handle === null ? {} : { handle: e.handle }),
});

// ---- The file as a file -----------------------------------------------------------------------------

/** What a file looks like that is no DXF, with what to do about it. */
const LOOKS_LIKE = {
  nothing: ['it is empty', 'Export the drawing again.'],
  'binary drawing': ['it is a drawing in the binary form of the program that drew it', 'Save it as a DXF.'],
  xml: ['it begins as XML or SVG does', 'Give a DXF, or name it with the ending .svg.'],
  pdf: ['it is a PDF', 'Export the drawing as a DXF.'],
  other: [
    'it holds no SECTION of groups, which are pairs of lines with a code and a value',
    'Export the drawing as a DXF.',
  ],
} as const;

export const notDxf = (file: string, looksLike: keyof typeof LOOKS_LIKE): Diagnostic =>
  read(
    'error',
    'not-dxf',
    `This is not a DXF file: ${LOOKS_LIKE[looksLike][0]}.`,
    { file, line: 1 },
    LOOKS_LIKE[looksLike][1],
  );

export const truncated = (
  file: string,
  line: number,
  after: { readonly type: string; readonly line: number } | null,
): Diagnostic =>
  read(
    'error',
    'truncated',
    `The file ends too early, ${after === null ? '' : `in or after the ${after.type} of line ${after.line}, `}without its closing EOF.`,
    { file, line },
    'Copy or export it again: a complete DXF closes with a line 0 and a line EOF.',
  );

export const badGroupCode = (file: string, line: number, found: string): Diagnostic =>
  read(
    'error',
    'bad-group-code',
    `A group code (an integer) was expected here, but the line holds '${found}'.`,
    { file, line },
    'A line is missing or was added above this place; export the file again.',
  );

export const badNumber = (
  at: { file: string; line: number; handle: string | null },
  entity: string,
  code: number,
  found: string,
): Diagnostic =>
  read(
    'error',
    'bad-number',
    `Group ${code} of this ${entity} must be a finite number of sensible size, but it is '${found.trim().slice(0, 40)}'.`,
    entityLocus(at.file, at),
    found.includes(',')
      ? 'Numbers in a DXF are written with a decimal point, never with a comma.'
      : 'Correct the number in the drawing and export it again.',
  );

export const missingValue = (
  at: { file: string; line: number; handle: string | null },
  entity: string,
  code: number,
): Diagnostic =>
  read(
    'error',
    'missing-value',
    `This ${entity} has no group ${code}, without which it has no place or size.`,
    entityLocus(at.file, at),
    'Export the file again; the entity was not written completely.',
  );

export const wrongEncoding = (file: string): Diagnostic =>
  read(
    'warning',
    'wrong-encoding',
    'The file should be in UTF-8, by its version, but it is not; it was read as code page ANSI_1252.',
    { file },
    'Check names with letters beyond a to z.',
  );

export const outsideSection = (file: string, line: number, entity: string): Diagnostic =>
  read(
    'warning',
    'outside-section',
    `A ${entity} stands outside of any section; it and those after it were read as if they stood in ENTITIES.`,
    { file, line },
    'The program that wrote the file left out a SECTION; check that the drawing is complete.',
  );

// ---- Entities ---------------------------------------------------------------------------------------

export interface Tally {
  readonly count: number;
  readonly first: { readonly line: number; readonly handle: string | null };
}

export const unknownEntity = (file: string, type: string, t: Tally): Diagnostic =>
  read(
    'warning',
    'unknown-entity',
    `${times(t.count, `${type} entity`, `${type} entities`)} left out: this type is not read.`,
    entityLocus(file, t.first),
    'Convert them to lines, arcs or polylines if they are to be cut.',
  );

export const annotationLeftOut = (file: string, type: string, t: Tally): Diagnostic =>
  read(
    'note',
    'annotation',
    `${times(t.count, `${type} entity`, `${type} entities`)} left out: they explain the drawing and are not cut.`,
    entityLocus(file, t.first),
    'Nothing needs to be done, unless something drawn with them is to be cut.',
  );

export const badSpline = (
  at: { file: string; line: number; handle: string | null },
  problem: string,
): Diagnostic =>
  read(
    'error',
    'bad-spline',
    `This spline is none: ${problem}.`,
    entityLocus(at.file, at),
    'Draw the curve again, or convert it to lines and arcs, and export the file again.',
  );

export const drawnThrough = (file: string, t: Tally): Diagnostic =>
  read(
    'warning',
    'drawn-through',
    `${times(t.count, 'spline')} stated by the points to be drawn through only; a cubic spline was drawn through them.`,
    entityLocus(file, t.first),
    'Between the points another program may draw it otherwise; export splines with control points.',
  );

export const filledAreas = (file: string, type: string, t: Tally, taken: boolean): Diagnostic =>
  read(
    taken ? 'warning' : 'note',
    'filled',
    taken
      ? `Nothing but filled areas is drawn, so the ${times(t.count, 'boundary line')} of ${type} were taken for contours.`
      : `${times(t.count, 'boundary line')} of ${type} left out: filled areas show what other lines bound.`,
    entityLocus(file, t.first),
    taken ? 'Check the contours.' : 'Draw a contour as lines, arcs or polylines if it is to be cut.',
  );

export const notFollowed = (file: string, e: EntityRef, kind: string, within: number): Diagnostic =>
  read(
    'error',
    'not-followed',
    `This ${kind} cannot be followed with lines and arcs within ${mm(within)}: it is too large or too winding.`,
    entityLocus(file, e),
    'Check its size and the unit of the drawing, or convert it to lines and arcs.',
  );

export const blockRecursion = (file: string, e: EntityRef, block: string): Diagnostic =>
  read(
    'error',
    'block-recursion',
    `Block '${block}' holds itself.`,
    entityLocus(file, e),
    'Resolve (explode) the block in the drawing, or delete the reference.',
  );

export const blockMissing = (
  file: string,
  block: string,
  count: number,
  line: number,
  external: boolean,
): Diagnostic =>
  read(
    'warning',
    'block-missing',
    `Block '${block}' is put in place ${times(count, 'time')}, but ${external ? 'its contents are in another file' : 'the file does not hold it'}.`,
    { file, line },
    'Bind or resolve (explode) the block in the drawing if something of it is to be cut.',
  );

export const outOfReach = (file: string, e: EntityRef): Diagnostic =>
  read(
    'error',
    'out-of-reach',
    'This entity of a block, put in place, reaches beyond 1 000 000 000 units.',
    entityLocus(file, e),
    'Check the scales of the references to the block.',
  );

export const dxfLimit = (file: string, e: EntityRef, what: string): Diagnostic =>
  read(
    'error',
    'dxf-limit',
    `The file is beyond what is read: ${what}.`,
    entityLocus(file, e),
    'Leave out what is not to be cut, or split the drawing.',
  );

export const codePage = (file: string, page: string): Diagnostic =>
  read(
    'warning',
    'code-page',
    `The file's code page '${page}' is not known; it was read as ANSI_1252.`,
    { file },
    'Check names with letters beyond a to z, or save the file in a version from 2007 on, which is UTF-8.',
  );

export const noEnd = (file: string, line: number): Diagnostic =>
  read(
    'warning',
    'no-end',
    'The file closes after a section, without an EOF.',
    { file, line },
    'Check that the drawing is complete.',
  );

export const noSize = (file: string, type: string, t: Tally): Diagnostic =>
  read(
    'warning',
    'no-size',
    `${times(t.count, `${type} entity`, `${type} entities`)} without any size left out.`,
    entityLocus(file, t.first),
    'They can be deleted from the drawing.',
  );

export const notFlat = (file: string, type: string, t: Tally): Diagnostic =>
  read(
    'warning',
    'not-flat',
    `${times(t.count, `${type} entity`, `${type} entities`)} left out: not parallel to the drawing plane.`,
    entityLocus(file, t.first),
    'Flat parts are drawn in the XY plane; turn or flatten these entities.',
  );

export const paperSpace = (file: string, t: Tally): Diagnostic =>
  read(
    'note',
    'paper-space',
    `${times(t.count, 'entity', 'entities')} in paper space or invisible left out.`,
    entityLocus(file, t.first),
    'Only what is drawn visibly in model space is cut.',
  );

export const emptyDrawing = (file: string): Diagnostic =>
  read(
    'warning',
    'empty-drawing',
    'The file holds nothing that is read.',
    { file },
    'Check that the contours are in model space, and that they are lines, arcs, circles, polylines or curves.',
  );

// ---- Unit -------------------------------------------------------------------------------------------

export const noUnit = (file: string, reason: string): Diagnostic =>
  read(
    'warning',
    'no-unit',
    `The file states no unit. ${reason}`,
    { file },
    'Say which unit it is drawn in: mm, cm, m or inch.',
  );

export const oddUnit = (file: string, reason: string): Diagnostic =>
  read(
    'warning',
    'odd-unit',
    `The unit that the file states may be wrong: ${reason}`,
    { file },
    'Measure a part on the screen; if it is wrong, give the unit: mm, cm, m or inch.',
  );

// ---- SVG --------------------------------------------------------------------------------------------

/** What a file looks like that is no SVG, with what to do about it. */
const NO_SVG = {
  nothing: ['it is empty', 'Export the drawing again.'],
  compressed: ['it is compressed', 'Unpack it, or save it as plain SVG.'],
  dxf: ['it begins as a DXF does', 'Name it with the ending .dxf.'],
  pdf: ['it is a PDF', 'Export the drawing as plain SVG.'],
  'other text': ['it does not begin with an XML element', 'Export the drawing as plain SVG.'],
  'other xml': ['its outermost element is no svg', 'Export the drawing as plain SVG.'],
} as const;

export const notSvg = (file: string, line: number, looksLike: keyof typeof NO_SVG): Diagnostic =>
  read(
    'error',
    'not-svg',
    `This is not an SVG file: ${NO_SVG[looksLike][0]}.`,
    { file, line },
    NO_SVG[looksLike][1],
  );

export const malformedXml = (file: string, line: number, column: number, says: string): Diagnostic =>
  read(
    'error',
    'malformed-xml',
    `The XML is wrong at column ${column} of this line: ${says}.`,
    { file, line },
    'Correct the place, or export the drawing again.',
  );

export const truncatedSvg = (
  file: string,
  line: number,
  open: { readonly name: string; readonly line: number } | null,
): Diagnostic =>
  read(
    'error',
    'svg-truncated',
    `The file ends too early${open === null ? '' : `, inside the ${open.name} that begins on line ${open.line}`}.`,
    { file, line },
    'Copy or export it again: a complete SVG closes with </svg>.',
  );

export const svgEncoding = (file: string): Diagnostic =>
  read(
    'warning',
    'svg-encoding',
    'The file should be in UTF-8, by its first line, but it is not; it was read as windows-1252.',
    { file },
    'Check names with letters beyond a to z.',
  );

export const svgLimit = (file: string, e: EntityRef, what: string): Diagnostic =>
  read(
    'error',
    'svg-limit',
    `The file is beyond what is read: ${what}.`,
    entityLocus(file, e),
    'Leave out what is not to be cut, or split the drawing.',
  );

export const badPathData = (
  file: string,
  e: EntityRef,
  what: 'path data' | 'list of points',
  text: string,
  at: number,
  expected: string,
): Diagnostic => {
  const near = text
    .slice(at, at + 12)
    .replace(/\s+/g, ' ')
    .trim();
  return read(
    'error',
    'path-data',
    `The ${what} is wrong at its character ${at + 1}${near === '' ? ', where it ends' : ` ('${near}')`}: ${expected} was expected.`,
    entityLocus(file, e),
    'Export the file again, or redraw this element; a contour that breaks off is not cut.',
  );
};

export const badSvgNumber = (
  file: string,
  e: EntityRef,
  element: string,
  attribute: string,
  found: string,
  sized: boolean,
): Diagnostic =>
  read(
    'error',
    'svg-number',
    `'${attribute}' of this ${element} must be a finite number of sensible size${sized ? ', not below 0' : ''}, but it is '${found.trim().slice(0, 40)}'.`,
    entityLocus(file, e),
    'Correct the number in the drawing and export it again.',
  );

export const farOut = (file: string, e: EntityRef, element: string): Diagnostic =>
  read(
    'error',
    'svg-number',
    `This ${element} reaches beyond 1 000 000 000 mm, or its place is no number, once it is scaled.`,
    entityLocus(file, e),
    'Check the transforms round it and the size of the drawing.',
  );

export const badViewBox = (file: string, e: EntityRef, found: string): Diagnostic =>
  read(
    'error',
    'svg-number',
    `A viewBox must be four finite numbers, width and height above 0, but it is '${found.trim().slice(0, 40)}'.`,
    entityLocus(file, e),
    'Set the size of the page in the drawing and export it again.',
  );

export const badTransform = (file: string, e: EntityRef, element: string, found: string): Diagnostic =>
  read(
    'error',
    'svg-transform',
    `The transform of this ${element} cannot be read: '${found.trim().slice(0, 60)}'.`,
    entityLocus(file, e),
    'It must be a list of matrix, translate, scale, rotate, skewX and skewY with their numbers; apply it in the drawing and export again.',
  );

export const useRecursion = (file: string, e: EntityRef, chain: readonly string[]): Diagnostic =>
  read(
    'error',
    'use-recursion',
    `A copy (use) contains itself: ${(chain.length > 6 ? [...chain.slice(0, 5), '…', chain.at(-1)!] : chain).join(' → ')}.`,
    entityLocus(file, e),
    'Unlink the copies in the drawing.',
  );

export const useMissing = (file: string, e: EntityRef, reference: string): Diagnostic =>
  read(
    'warning',
    'use-missing',
    `A copy (use) left out: ${reference === '' ? 'it names nothing to copy' : `'${reference.slice(0, 40)}' is not in this file`}.`,
    entityLocus(file, e),
    'Unlink the copy in the drawing and export it again.',
  );

/** Why elements are counted instead of drawn as they are. */
export type SvgTallyReason = 'not read' | 'hidden' | 'unpainted' | 'clipped' | 'by reference' | 'style';

/** One diagnostic for all elements of a type that were left out, or not drawn as they are, for one reason. */
export function svgTally(file: string, reason: SvgTallyReason, type: string, t: Tally): Diagnostic {
  const elements = times(t.count, `${type} element`);
  const at = entityLocus(file, t.first);
  switch (reason) {
    case 'not read':
      return read(
        'warning',
        'svg-not-read',
        `${elements} left out: this type is not read.`,
        at,
        'Trace images, and convert such elements to paths, if they are to be cut.',
      );
    case 'hidden':
      return read(
        'note',
        'svg-hidden',
        `${times(t.count, 'element')} hidden (with all that they hold) left out.`,
        at,
        'Show them in the drawing if they are to be cut.',
      );
    case 'unpainted':
      return read(
        'warning',
        'svg-unpainted',
        `${elements} without line and without fill left out: nobody sees them.`,
        at,
        'Give them a stroke if they are to be cut.',
      );
    case 'clipped':
      return read(
        'warning',
        'svg-clipped',
        `${elements} seen through a clipping path or mask read in full, as if there were none.`,
        at,
        'Apply the clipping in the drawing if it bounds what is to be cut.',
      );
    case 'by reference':
      return read(
        'note',
        'svg-not-drawn',
        `${elements} left out: what they hold only paints or clips other elements.`,
        at,
        'Draw it as a contour of its own if it is to be cut.',
      );
    case 'style':
      return read(
        'note',
        'svg-style',
        `${times(t.count, 'style rule')} not followed: only types, classes and ids, one inside another, are.`,
        at,
        'Check that lines that are hidden or dashed by such rules were read as they are meant.',
      );
  }
}

export const svgDashed = (file: string, t: Tally): Diagnostic =>
  read(
    'warning',
    'svg-dashed',
    `${times(t.count, 'dashed line')} put on layers that are off: a dashed line is a hidden edge or an axis, not a cut.`,
    entityLocus(file, t.first),
    'Draw with a solid line what is to be cut.',
  );

export const svgBackground = (file: string, e: EntityRef): Diagnostic =>
  read(
    'note',
    'svg-background',
    'A filled rectangle as large as the page was taken for its background and left out.',
    entityLocus(file, e),
    'Give it a stroke if it is to be cut.',
  );

export const svgRounded = (file: string, t: Tally, most: number): Diagnostic =>
  read(
    'note',
    'svg-rounded',
    `${times(t.count, 'element')} drawn with the usual curves for circles read as true arcs, up to ${Number(most.toFixed(3))} mm from the curves.`,
    entityLocus(file, t.first),
    'Nothing to do: the arcs are what the curves stand for.',
  );

export const noSvgUnit = (file: string, reason: string): Diagnostic =>
  read(
    'warning',
    'no-unit',
    `The file states no physical size. ${reason}`,
    { file },
    'Write width and height with a unit (mm) in the drawing, or say which unit its numbers are: mm, cm, m or inch.',
  );

export const emptySvg = (file: string): Diagnostic =>
  read(
    'warning',
    'empty-drawing',
    'The file holds nothing that is drawn and read.',
    { file },
    'Check that the contours are paths or shapes with a stroke or a fill, and not hidden.',
  );
