import type { Point } from '@haunch/geometry';
import { type Diagnostic, diagnosticsOf, type Locus } from '@haunch/model';
import { farWords } from './change-limit.js';

const master = diagnosticsOf('master');
const refit = diagnosticsOf('refit');

const mm = (value: number): string => `${+value.toFixed(4)} mm`;
const list = (names: readonly string[]): string => names.map((n) => `'${n}'`).join(' and ');

/** The text is not JSON. */
export const malformedJson = (problem: string, locus: Locus): Diagnostic =>
  master(
    'error',
    'malformed-json',
    problem,
    locus,
    'Check the commas, quotes and brackets on this line and the one before.',
  );

/** A drawing stands where a master is wanted. */
export const drawingForMaster = (kind: string, locus: Locus): Diagnostic =>
  master(
    'error',
    'drawing',
    `this is a drawing (${kind}), which does not say how its parts go together; a master (.json) is wanted`,
    locus,
    `Find a master from the drawing first: haunch mates ${locus.file ?? 'drawing.dxf'} --out found.master.json`,
  );

/** A field has a value that the format does not allow. */
export const wrongValue = (problem: string, locus: Locus): Diagnostic =>
  master(
    'error',
    'value',
    problem,
    locus,
    'docs/formats/haunch-master.md lists every field and what it may hold.',
  );

/** Two things have one id. */
export const sameId = (what: string, id: string, locus: Locus): Diagnostic =>
  master(
    'error',
    'same-id',
    `a second ${what} is called '${id}'`,
    locus,
    'Rename one of them; ids tell things apart.',
  );

/** A mark is named that the master does not have. */
export const unknownMark = (id: string, locus: Locus): Diagnostic =>
  master(
    'error',
    'unknown-mark',
    `there is no mark '${id}'`,
    locus,
    'Add it to "marks", or correct its name here.',
  );

/** A part is named that the master does not have. */
export const unknownPart = (id: string, locus: Locus): Diagnostic =>
  master(
    'error',
    'unknown-part',
    `there is no part '${id}'`,
    locus,
    'Use the id of one of the master\'s "parts".',
  );

/** A mate names a feature that its slot part does not have. */
export const unknownFeature = (id: string, part: string, locus: Locus): Diagnostic =>
  master(
    'error',
    'unknown-feature',
    `part '${part}' has no feature '${id}'`,
    locus,
    'Use the id of one of its cuts, pockets or holes; describe an edge of the outline in words with a space.',
  );

/** A mate joins a part to itself. */
export const selfMate = (id: string, locus: Locus): Diagnostic =>
  master(
    'error',
    'self-mate',
    `the mate joins part '${id}' to itself`,
    locus,
    'A mate needs two different parts.',
  );

/** The last segment of a loop does not return to its start. */
export const openLoop = (gap: number, locus: Locus): Diagnostic =>
  master(
    'error',
    'open-loop',
    `the loop is open: its last segment ends ${mm(gap)} from its start`,
    locus,
    'Let the last segment\'s "to" repeat "start".',
  );

/** A segment ends where it starts. */
export const emptySegment = (locus: Locus): Diagnostic =>
  master(
    'error',
    'empty-segment',
    'the segment ends where it starts',
    locus,
    'Leave it out; write a full circle as a hole or as two arcs.',
  );

/** An arc's centre is not equally far from its ends. */
export const unequalRadii = (from: number, to: number, locus: Locus): Diagnostic =>
  master(
    'error',
    'unequal-radii',
    `the arc's centre is ${mm(from)} from its start and ${mm(to)} from its end`,
    locus,
    'Correct the centre or the ends: the two radii may differ by 0.001 mm.',
  );

/** A loop meets itself. */
export const crossingLoop = (problem: string, locus: Locus): Diagnostic =>
  master(
    'error',
    'crossing-loop',
    `the loop does not bound one plain area: ${problem}`,
    locus,
    'Find the two segments that meet away from their common corner and correct their ends.',
  );

/** A cut runs out of its plate or into another cut. */
export const strayCut = (feature: string, other: string, locus: Locus): Diagnostic =>
  master(
    'error',
    'stray-cut',
    `cut '${feature}' is not clear of '${other}'`,
    locus,
    'A through cut lies inside the outline and apart from other cuts; join cuts that meet into one loop.',
  );

/** A frame's vectors do not form a right-handed unit frame. */
export const frameNotSquare = (problem: string, locus: Locus): Diagnostic =>
  master(
    'error',
    'frame',
    `the frame is not a right-handed frame of unit vectors: ${problem}`,
    locus,
    'u × v must be n; with the wrong sign the part would be cut as its mirror image.',
  );

/** A direction is not of unit length. */
export const notUnit = (length: number, locus: Locus): Diagnostic =>
  master(
    'error',
    'direction',
    `the direction has length ${+length.toFixed(4)} instead of 1`,
    locus,
    'Write a named axis such as "-X", or a vector of length 1.',
  );

/** An edge, centre, hole or frame names a mark on which it does not lie. */
export const offMark = (what: string, mark: string, by: number, locus: Locus): Diagnostic =>
  master(
    'error',
    'off-mark',
    `${what} is ${mm(by)} off its mark '${mark}' at the master's own thicknesses`,
    locus,
    'Draw it on the mark, correct the mark, or take the mark off it.',
  );

/** A mark does not say where this is, because its plane never cuts the plate's. */
export const markMisses = (what: string, mark: string, locus: Locus): Diagnostic =>
  master(
    'error',
    'mark-misses',
    `mark '${mark}' says nothing about ${what}: its plane does not cross that direction`,
    locus,
    "An edge needs a mark that cuts the plate's plane; a frame needs one that cuts the plate's normal.",
  );

/** What a plate's mark makes of its faces is not what its hold says. */
export const holdDisagrees = (hold: string, stays: string, locus: Locus): Diagnostic =>
  master(
    'warning',
    'hold-disagrees',
    `"hold" says ${hold}, but by its mark ${stays} stays put`,
    locus,
    'The mark decides; correct "hold", which is for people, or the mark.',
  );

/** Two mated parts do not touch. */
export const noContact = (joint: string, a: string, b: string): Diagnostic =>
  master(
    'error',
    'no-contact',
    `no edge of '${a}' or '${b}' lies against the other: the parts of the joint do not touch`,
    { joint, part: a },
    "Compare the two frames and the edges that should meet; they must coincide at the master's own thicknesses.",
  );

/** A slot for a plate that leans is not as wide as the angle asks for. */
export const leaningSlot = (
  joint: string,
  part: string,
  feature: string,
  entering: string,
  { degrees, needs, is }: { readonly degrees: number; readonly needs: number; readonly is: number },
): Diagnostic => {
  const level = is < needs ? 'error' : 'warning';
  return master(
    level,
    'leaning-slot',
    `'${entering}' passes at ${+degrees.toFixed(2)}° and needs a slot ${mm(needs)} wide (its thickness / sin θ + the wall's height / tan θ), but it is drawn ${mm(is)} wide`,
    { joint, part, feature },
    is < needs
      ? 'Put each wall where its arris meets the face, on a mark with terms of both thicknesses.'
      : 'Draw the walls against the plate; the fit adds the clearance. Walls that stand off are not judged.',
  );
};

/** An edge that lies against another plate as drawn no longer does so after refitting. */
export const contactLost = (c: {
  readonly joint: string;
  readonly part: string;
  readonly edge: string;
  readonly with: string;
  readonly role: string;
}): Diagnostic =>
  refit(
    'error',
    'contact-lost',
    `edge ${c.edge} lies against '${c.with}' as drawn (${c.role}) and no longer does at the new thicknesses`,
    { joint: c.joint, part: c.part, feature: c.edge.replace(/\/[^/]*$/, '') },
    `Put the edge on the mark of the plane it should follow ('on' of that segment), or the frame of the part.`,
  );

/** A thickness is no thickness. */
export const badThickness = (part: string, value: number): Diagnostic =>
  refit(
    'error',
    'thickness',
    `its thickness would be ${value} mm`,
    { part },
    'Give the measured thickness of its sheet, greater than 0.',
  );

/** A part's new sheet is too thick or too thin for its design. */
export const thicknessTooFar = (part: string, from: number, to: number): Diagnostic => {
  const { message, hint } = farWords(from, to);
  return refit('error', 'too-far', message, { part }, hint);
};

/** A part was given no thickness. */
export const missingThickness = (part: string): Diagnostic =>
  refit(
    'error',
    'thickness-missing',
    'no thickness is given for it',
    { part },
    "Every part needs the measured thickness of the sheet that it is cut from, or the master's own.",
  );

/** A thickness is given for a part that does not exist. */
export const strangerThickness = (part: string): Diagnostic =>
  refit(
    'error',
    'unknown-part',
    `a thickness is given for '${part}', which the master does not have`,
    { part },
    "Use the id of one of the master's parts.",
  );

/** A mark's plane cuts the plate in a line that the edge is not parallel to. */
export const markAskew = (edge: string, mark: string, locus: Locus): Diagnostic =>
  refit(
    'error',
    'mark-askew',
    `${edge} cannot follow mark '${mark}': the mark cuts the plate in a line that is not parallel to it`,
    locus,
    'Give the edge a mark whose plane contains it.',
  );

/** The marks of one edge or centre ask for different places. */
export const marksDisagree = (what: string, marks: readonly string[], locus: Locus): Diagnostic =>
  refit(
    'error',
    'marks-disagree',
    `${what} cannot lie on marks ${list(marks)} at once at these thicknesses`,
    locus,
    'Leave one of them: two marks fix a centre only where their planes cross, and an edge needs one.',
  );

/** Two neighbouring edges no longer meet. */
export const neighboursPart = (first: string, second: string, locus: Locus): Diagnostic =>
  refit(
    'error',
    'neighbours-part',
    `${first} and ${second}, which met here, do not meet any more`,
    locus,
    'Let both follow the same mark, or put a straight edge between them that can take up the change.',
  );

/** An edge has shrunk to nothing. */
export const edgeVanishes = (edge: string, locus: Locus): Diagnostic =>
  refit(
    'error',
    'edge-vanishes',
    `${edge} has no length left at these thicknesses`,
    locus,
    'The feature is too small for this change; draw it larger or let its neighbours follow the same mark.',
  );

/** An edge has come to run backwards. */
export const edgeFlips = (edge: string, locus: Locus): Diagnostic =>
  refit(
    'error',
    'edge-flips',
    `${edge} would run backwards at these thicknesses`,
    locus,
    'Its neighbours have passed each other; draw the feature larger or choose a nearer thickness.',
  );

/** A loop meets itself after the change. */
export const loopCrosses = (problem: string, locus: Locus): Diagnostic =>
  refit(
    'error',
    'crossing-loop',
    `its loop no longer bounds one plain area: ${problem}`,
    locus,
    'Two edges far apart on the loop have run into each other; choose a nearer thickness or redraw.',
  );

/** A cut has run out of the plate or into another. */
export const cutsMeet = (feature: string, other: string, locus: Locus): Diagnostic =>
  refit(
    'error',
    'cuts-meet',
    `cut '${feature}' is no longer clear of '${other}'`,
    locus,
    'Leave more material between them, or choose a nearer thickness.',
  );

/** A pocket or blind hole is as deep as the plate is thick. */
export const tooDeep = (depth: number, thickness: number, locus: Locus): Diagnostic =>
  refit(
    'error',
    'too-deep',
    `it is ${mm(depth)} deep in a plate of ${mm(thickness)}`,
    locus,
    'Make it shallower, or use a thicker sheet for this part.',
  );

/** A corner that a square arris must reach could not be relieved. */
export const cornerNotRelieved = (why: string, proud: number, locus: Locus): Diagnostic =>
  refit(
    'error',
    'corner-not-relieved',
    `the cutter's round stays in this inside corner (${why}), and the plate that should reach it stands ${mm(proud)} proud`,
    locus,
    "Break the entering plate's arris there, use a smaller cutter, or choose another form of relief.",
  );

/** A relief runs into another curve of the part. */
export const reliefBreaksThrough = (other: string, locus: Locus): Diagnostic =>
  refit(
    'warning',
    'relief-breaks-through',
    `the relief of this corner runs into '${other}'`,
    locus,
    'Leave more material there, use a smaller cutter, or choose another form of relief.',
  );

/** The place of a corner, for the locus of a diagnostic. */
export const atCorner = (part: string, feature: string, at: Point): Locus => ({ part, feature, at });
