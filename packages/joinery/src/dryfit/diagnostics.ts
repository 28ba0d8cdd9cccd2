import type { Point } from '@haunch/geometry';
import { type Diagnostic, diagnosticsOf, type Locus } from '@haunch/model';

const say = diagnosticsOf('dryfit');

const mm = (value: number): string => `${+value.toFixed(4)} mm`;
const list = (names: readonly string[]): string =>
  names.length < 2 ? `${names[0] ?? 'nothing'}` : `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`;

/** A joint's place in a piece: the joint, the slotted part and the feature. */
export interface JointPlace {
  readonly joint: string;
  readonly part: string;
  readonly feature: string;
}

/** A plate stands in a cut of another, or in a notch of its outline, and no joint says so. */
export const unjoined = (part: string, cutPart: string, feature: string): Diagnostic =>
  say(
    'warning',
    'unjoined',
    `part ${part} stands in ${feature.endsWith('.outline') ? 'a notch of the outline' : feature} of part ${cutPart}, and no joint says so, so that it gets no clearance there`,
    { part: cutPart, feature },
    `Add a mate of ${part} and ${cutPart} to the master, or make the cut wider where ${part} only passes through it.`,
  );

/** How many holes are named. */
const NAMED = 4;

/** Blind holes look away from another part's holes that look at them. */
export const holesAway = (part: string, holes: readonly string[], from: string): Diagnostic =>
  say(
    'warning',
    'holes-away',
    holes.length === 1
      ? `blind hole ${holes[0]} looks away from part ${from}, whose hole on the same axis looks at it; one of the two is in the wrong face`
      : `${holes.length} blind holes (${list(holes.slice(0, NAMED))}${holes.length > NAMED ? ' …' : ''}) look away from part ${from}, whose holes on the same axes look at them; those of one part are in the wrong face`,
    { part, feature: holes[0]! },
    `Check from which face ${part} and ${from} are drilled.`,
  );

/** A part's frame is left-handed. */
export const leftHanded = (part: string): Diagnostic =>
  say(
    'error',
    'left-handed',
    'its frame is left-handed (u × v points against n), so that the part would be cut as a mirror image',
    { part },
    'Turn one of u, v, n round, and mirror the curves if they were drawn for the other hand.',
  );

/** A part's frame is not made of unit vectors at right angles. */
export const frameAskew = (part: string, problem: string): Diagnostic =>
  say(
    'error',
    'frame-not-square',
    `its frame is no frame: ${problem}`,
    { part },
    'Give u, v and n as unit vectors at right angles, with all their digits.',
  );

/** A part has no thickness that could be cut. */
export const badThickness = (part: string, thickness: number | null): Diagnostic =>
  say(
    'error',
    'thickness',
    thickness === null ? 'its thickness is not known' : `its thickness is ${thickness} mm`,
    { part },
    'Give the thickness of its sheet, greater than zero.',
  );

/** An arc's centre is not as far from one end as from the other. */
export const badArc = (
  part: string,
  feature: string,
  radii: readonly [number, number],
  at: Point,
): Diagnostic =>
  say(
    'error',
    'bad-arc',
    `an arc's centre is ${mm(radii[0])} from its start and ${mm(radii[1])} from its end`,
    { part, feature, at },
    'Correct the centre or the ends; both distances must be the radius.',
  );

/** A curve does not bound an area. */
export const badCurve = (part: string, feature: string, problem: string, at?: Point): Diagnostic =>
  say(
    'error',
    'bad-curve',
    problem,
    { part, feature, ...(at === undefined ? {} : { at }) },
    'Draw the curve so that it closes, crosses nothing and lies in its part.',
  );

/** Two parts have one id. */
export const sameId = (part: string): Diagnostic =>
  say(
    'error',
    'same-id',
    `two parts are called '${part}'`,
    { part },
    'Rename one of them, or leave the second out.',
  );

/** A mate or step names a part that is not there. */
export const unknownPart = (part: string, where: Locus): Diagnostic =>
  say(
    'error',
    'unknown-part',
    `part '${part}' is named but is not among the parts`,
    where,
    'Add the part, or correct the name.',
  );

/** Two plates take the same place. */
export const doubled = (part: string, other: string, volume: number): Diagnostic =>
  say(
    'error',
    'doubled',
    `it stands in the same place as part ${other} (${mm(volume)}³ in common)`,
    { part },
    `Leave one of ${part} and ${other} out, or move it to where it belongs.`,
  );

/** Two plates interpenetrate outside any joint. */
export const interference = (part: string, other: string, volume: number): Diagnostic =>
  say(
    'error',
    'interference',
    `it and part ${other} are in each other's way: ${mm(volume)}³ in common, and no joint between them`,
    { part },
    `Cut a slot where they meet and add the mate, or move one of ${part} and ${other}.`,
  );

/** A joint's two plates interpenetrate and no small move would part them. */
export const narrow = (at: JointPlace, entering: string, volume: number): Diagnostic =>
  say(
    'error',
    'narrow',
    `part ${entering} does not go in: the opening for it is too narrow, or there is none (${mm(volume)}³ in common)`,
    { ...at },
    `Refit the master to the thickness of ${entering}, or widen ${at.feature}.`,
  );

/** A slot stands beside the plate that enters it. */
export const shifted = (at: JointPlace, entering: string, by: number, toward: string): Diagnostic =>
  say(
    'error',
    'shifted',
    `part ${entering} would have to stand ${mm(by)} farther ${toward} to go in`,
    { ...at },
    `Move ${at.feature} or the frame of ${entering}; put both on the same mark.`,
  );

/** A slot or lap ends before the plate that enters it is home. */
export const short = (at: JointPlace, entering: string, by: number): Diagnostic =>
  say(
    'error',
    'short',
    `part ${entering} stops ${mm(by)} before it is home: the two depths do not add up`,
    { ...at },
    `Deepen ${at.feature}, or the notch of ${entering}, by that much.`,
  );

/** A housing is not as deep as what enters it. */
export const shallow = (at: JointPlace, entering: string, by: number): Diagnostic =>
  say(
    'error',
    'shallow',
    `the housing is ${mm(by)} too shallow for part ${entering}`,
    { ...at },
    `Deepen the pocket ${at.feature}, or shorten the tongue of ${entering}.`,
  );

/** A located wall stands off its partner. */
export const loose = (at: JointPlace, entering: string, gap: number, toward: string): Diagnostic =>
  say(
    'error',
    'loose',
    `part ${entering} can move ${mm(gap)} ${toward} here, where the joint is to hold it`,
    { ...at },
    'Draw the wall against its partner; clearance is added later, by the fit.',
  );

/** Nothing holds a part in a direction in which its joint is to hold it. */
export const notLocated = (
  joint: string,
  part: string,
  entering: string,
  gap: number | null,
  toward: string,
): Diagnostic =>
  say(
    'error',
    'not-located',
    `nothing holds part ${entering} ${toward}, as the joint says it does${gap === null ? '' : `: the nearest wall is ${mm(gap)} off`}`,
    { joint, part },
    'Move the wall to the plate, or take the direction out of what the joint locates.',
  );

/** An entering part goes on past where it is to stop. */
export const noStop = (
  joint: string,
  part: string,
  entering: string,
  gap: number | null,
  toward: string,
): Diagnostic =>
  say(
    'error',
    'no-stop',
    `part ${entering} does not stop ${toward} where it is drawn${gap === null ? '' : `, but ${mm(gap)} farther on`}`,
    { joint, part },
    'Make the slot shallower or the shoulder nearer, so that what is to stop it does.',
  );

/** A part would fit as its mirror image. */
export const unmirrored = (part: string, others: readonly string[]): Diagnostic =>
  say(
    'error',
    'unmirrored',
    `it does not fit ${list(others)}, but its mirror image does`,
    { part },
    'Mirror its curves: it is drawn for the other hand.',
  );

/** A pocket is in the wrong face. */
export const wrongFace = (part: string, feature: string, others: readonly string[]): Diagnostic =>
  say(
    'error',
    'wrong-face',
    `${list(others)} would fit if this were in the other face`,
    { part, feature },
    'Give the pocket the face that its partner stands on.',
  );

/** A part has another thickness than its slots were drawn for. */
export const wrongSheet = (part: string, is: number, wanted: number, others: readonly string[]): Diagnostic =>
  say(
    'error',
    'wrong-sheet',
    `it is ${mm(is)} thick, but its joints with ${list(others)} are drawn for ${mm(wanted)}`,
    { part },
    'Refit the master to the thickness of the sheet, or cut the part from the sheet it was drawn for.',
  );

/** A joint's own walls keep its part from coming out against the way that it goes in. */
export const cannotEnter = (
  joint: string,
  part: string,
  entering: string,
  free: number,
  toward: string,
): Diagnostic =>
  say(
    'error',
    'cannot-enter',
    `part ${entering} cannot go in ${toward}: drawn back it meets part ${part} after ${mm(free)}`,
    { joint, part },
    'Correct the direction in which it moves, or open the slot on that side.',
  );

/** A listed step runs into something. */
export const stepBlocked = (
  step: number,
  moving: string,
  toward: string,
  by: string,
  after: number,
): Diagnostic =>
  say(
    'error',
    'step-blocked',
    `step ${step} cannot be done: part ${moving}, moved ${toward}, runs into part ${by}, ${mm(after)} before it is home`,
    { part: moving },
    `Do the step before ${by} is in place, or from another side.`,
  );

const inStep = (step: number, part: string): Locus => ({ part, path: `assembly, step ${step}` });

/** A step has one part both standing and moving. */
export const bothSides = (step: number, part: string): Diagnostic =>
  say(
    'error',
    'both-sides',
    `step ${step} has part ${part} both stand still and move`,
    inStep(step, part),
    `Name ${part} in one of 'fixed' and 'moving' only.`,
  );

/** A step counts on a part that is not in place by then. */
export const notYetPlaced = (step: number, part: string, later: number | null): Diagnostic =>
  say(
    'error',
    'not-yet-placed',
    `step ${step} counts on part ${part}, but no step before it has put it in place${later === null ? '' : `; step ${later} does so only later`}`,
    inStep(step, part),
    later === null
      ? `Add a step before it that puts ${part} in place, or take it out of 'fixed'.`
      : `Do step ${later} before step ${step}, or take ${part} out of 'fixed'.`,
  );

/** A step moves a part that is in place already, or names it twice. */
export const placedTwice = (
  step: number,
  part: string,
  since: number,
  without: readonly string[],
): Diagnostic =>
  say(
    'error',
    'placed-twice',
    without.length === 0
      ? `step ${step} names part ${part} twice among what moves`
      : `step ${step} moves part ${part}, which is in place since step ${since}, without ${list(without)}, to which it is joined`,
    inStep(step, part),
    without.length === 0
      ? `Name ${part} once.`
      : `Leave ${part} out of the step, move all that is joined to it too, or do the step earlier.`,
  );

/** A step moves several separate parts and nothing stands that they could be put on. */
export const nothingStands = (step: number, part: string): Diagnostic =>
  say(
    'error',
    'nothing-stands',
    `step ${step} moves part ${part} and others, but has nothing stand that they could be put on`,
    inStep(step, part),
    "Name under 'fixed' what they are put on.",
  );

/** The steps leave a part out. */
export const neverPlaced = (part: string): Diagnostic =>
  say(
    'error',
    'never-placed',
    'no step of the assembly puts it in place',
    { part, path: 'assembly' },
    'Add a step that does, a loose part too; or list no steps at all.',
  );

/** The steps end with parts apart from the rest. */
export const leftApart = (parts: readonly string[], rest: string): Diagnostic =>
  say(
    'error',
    'left-apart',
    `when all steps are done, ${list(parts)} ${parts.length > 1 ? 'are' : 'is'} still apart from part ${rest}: no step brings them together`,
    { part: parts[0]!, path: 'assembly' },
    `Add a step that does, or name what it is put on under 'fixed'.`,
  );

/** No step makes a joint. */
export const jointLeftOpen = (joint: string, part: string, entering: string): Diagnostic =>
  say(
    'error',
    'joint-left-open',
    `no step puts parts ${part} and ${entering} together: in none does one of them move while the other stands`,
    { joint, part, path: 'assembly' },
    `Add a step in which one stands and the other moves.`,
  );

/** Parts are in each other's way whatever is moved first. */
export const stuck = (parts: readonly string[], directions: number): Diagnostic =>
  say(
    'error',
    'stuck',
    `${list(parts)} hold each other: none of them, alone or with others, can leave in a straight line in any of ${directions} directions, so they cannot be put together either`,
    { part: parts[0]! },
    'Open one of their slots to an edge, or divide one of the parts.',
  );

/** The caller stopped the work. */
export const stopped = (): Diagnostic =>
  say(
    'error',
    'stopped',
    'the dry assembly was stopped before it was done',
    {},
    'Run it again to see the whole.',
  );
