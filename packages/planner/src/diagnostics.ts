import type { Point } from '@haunch/geometry';
import { diagnosticsOf, type Locus } from '@haunch/model';

const say = diagnosticsOf('plan');
const mm = (v: number): string => `${+v.toFixed(3)} mm`;

/** Where something of an item is: the part, and the feature of it. */
export interface Whereabouts {
  readonly item: string;
  readonly feature: string;
  readonly board: string;
}
const locus = (w: Whereabouts, at?: Point): Locus => ({
  part: w.item,
  feature: w.feature,
  board: w.board,
  ...(at === undefined ? {} : { at }),
});

export const trimOffBoard = (w: Whereabouts, along: string, at: number) =>
  say(
    'error',
    'trim-off-board',
    `The trimming cut along ${along.toUpperCase()} at ${mm(at)} does not run through the board.`,
    locus(w),
    "Give a coordinate between the board's edges.",
  );

export const trimIntoPart = (w: Whereabouts, part: string, along: string, at: number) =>
  say(
    'error',
    'trim-into-part',
    `The trimming cut along ${along.toUpperCase()} at ${mm(at)} would cut into ${part}.`,
    locus(w),
    'Cut elsewhere or on the other side of the line (waste), or lay the part elsewhere (lay.placements).',
  );

export const noRouterThrough = (w: Whereabouts, depth: number) =>
  say(
    'error',
    'no-router-through',
    `No router cuts ${mm(depth)} deep, through the sheet: their flutes are too short, or their up-cut is longer than a pass.`,
    locus(w),
    'Put in a longer router, or leave the trimming cut out.',
  );

export const badValue = (what: string, path: string, why: string) =>
  say('error', 'bad-value', `${what} cannot be planned with: ${why}.`, { path }, 'Correct the value.');

export const noRouter = (board: string) =>
  say(
    'error',
    'no-router',
    'There is no router cutter to cut the parts out with.',
    { board },
    'Add a cutter of kind router with its measured diameter.',
  );

export const holeWithoutCutter = (w: Whereabouts, diameter: number, at: Point, router: number | null) =>
  say(
    'error',
    'hole-without-cutter',
    router === null
      ? `No drill makes the hole of ${mm(diameter)}, and there is no router.`
      : `No drill makes the hole of ${mm(diameter)}, and it is too small to be bored with the router of ${mm(router)}.`,
    locus(w, at),
    'Add a drill of that measured diameter (± 0.15 mm), take a smaller router, or change the hole.',
  );

export const cutterTooLarge = (w: Whereabouts, diameter: number, why: string, width: number, at?: Point) =>
  say(
    'error',
    'cutter-too-large',
    `The cutter of ${mm(diameter)} is too large: ${why}.`,
    locus(w, at),
    width > 0
      ? `A cutter of up to ${mm(width)} gets round it; take such a one, or widen the place.`
      : 'No cutter gets round it: look at the contour there.',
  );

export const reliefOfAnotherCutter = (w: Whereabouts, relief: number, radii: readonly number[], at: Point) =>
  say(
    'error',
    'relief-of-another-cutter',
    `A corner relief of radius ${mm(relief)} fits none of the routers (${radii.map((r) => `radius ${mm(r)}`).join(', ')}).`,
    locus(w, at),
    'Refit the part with the measured diameter of the cutter that will cut it.',
  );

export const needsTurnOver = (w: Whereabouts, at?: Point) =>
  say(
    'error',
    'needs-turn-over',
    'It is to be cut from the face that lies down.',
    locus(w, at),
    'Set the part’s cut face to the face that carries its pockets and blind holes, or move the feature; or declare the pins or stops by which the sheet is turned over (turnOver of the board).',
  );

export const overrunIntoPart = (w: Whereabouts, beyond: number, at: Point) =>
  say(
    'error',
    'overrun-into-part',
    `It runs out over the part’s edge and must be cut ${mm(beyond)} beyond it, but the part’s own material lies there.`,
    locus(w, at),
    'Take a thinner cutter, or draw the recess so that it stops before the edge or opens wider.',
  );

export const drillPointTooLong = (
  w: Whereabouts,
  drill: string,
  point: number,
  needed: number,
  allowed: number,
) =>
  say(
    'error',
    'drill-point-too-long',
    `The point of drill ${drill} is ${mm(point)} long, so a through hole goes ${mm(needed)} into the bed sheet; ${mm(allowed)} are allowed.`,
    locus(w),
    'Allow more depth into the bed sheet (machine.spoilboard), take a drill with a flatter point, or a router that bores the hole.',
  );

export const drillPointComesThrough = (
  w: Whereabouts,
  drill: string,
  point: number,
  left: number,
  least: number,
) =>
  say(
    'error',
    'drill-point-comes-through',
    `The point of drill ${drill}, ${mm(point)} long, would leave ${mm(left)} of the sheet under the hole; ${mm(least)} are wanted.`,
    locus(w),
    'Make the hole shallower, or take a drill with a flatter point.',
  );

export const boredForItsPoint = (w: Whereabouts, drill: string, router: string) =>
  say(
    'note',
    'bored-for-its-point',
    `The point of drill ${drill} would go deeper than is allowed, so the hole is bored with router ${router}.`,
    locus(w),
    'Nothing is to be done; a drill with a flatter point would be quicker.',
  );

export const tooDeep = (w: Whereabouts, depth: number, thickness: number) =>
  say(
    'error',
    'too-deep',
    `A depth of ${mm(depth)} goes through the sheet of ${mm(thickness)}.`,
    locus(w),
    'Make it shallower, or make it a through cut.',
  );

export const flutesTooShort = (w: Whereabouts, cutter: string, fluteLength: number, depth: number) =>
  say(
    'error',
    'flutes-too-short',
    `Cutter ${cutter} has ${mm(fluteLength)} of cutting edge and must go ${mm(depth)} deep.`,
    locus(w),
    'Take a cutter with longer edges, or add one beside it: the first that reaches is taken.',
  );

export const noRoomForTabs = (
  w: Whereabouts,
  wanted: number,
  found: number,
  lifted: number,
  margin: number,
) =>
  say(
    'error',
    'no-room-for-tabs',
    `${wanted} tabs are wanted and there is room for ${found}: each lifts the cutter over ${mm(lifted)} of a straight edge that no other plate touches, ${mm(margin)} from its ends.`,
    locus(w),
    'Narrower tabs, a thinner cutter, wider spacing of tabs, or another way of holding the part.',
  );

export const tabTooHigh = (height: number, thickness: number, board: string) =>
  say(
    'error',
    'tab-too-high',
    `Tabs of ${mm(height)} are not lower than the sheet of ${mm(thickness)}.`,
    { board, path: 'holding.tabHeight' },
    'Make the tabs lower; 2 to 3 mm is usual.',
  );

export const noEntry = (w: Whereabouts) =>
  say(
    'error',
    'no-entry',
    'There is no place where the cutter may enter: every stretch touches another plate or is too short.',
    locus(w),
    'Leave more room between the parts, or leave a stretch of the outline free of mates.',
  );

export const inKeepOut = (w: Whereabouts, at: Point, gap: number, radius: number, whose: 'cutter' | 'hood') =>
  say(
    'error',
    'in-keep-out',
    `The cutter’s path comes within ${mm(gap)} of a keep-out, nearer than the ${whose}’s radius of ${mm(radius)}.`,
    locus(w, at),
    whose === 'hood'
      ? 'Move the part, or the screw or clamp, or take the hood off (machine.hoodRadius).'
      : 'Move the part, or the screw or clamp.',
  );

export const tooClose = (w: Whereabouts, other: string, gap: number, diameter: number, at: Point) =>
  say(
    'error',
    'too-close',
    `It lies ${mm(gap)} from ${other}, nearer than the cutter’s diameter of ${mm(diameter)}.`,
    locus(w, at),
    'Lay the parts out with more room between them.',
  );

export const offBoard = (w: Whereabouts, at: Point) =>
  say('error', 'off-board', 'It lies beyond the board’s edge.', locus(w, at), 'Lay the part out again.');

export const outOfReach = (w: Whereabouts, axis: string, value: number, least: number, most: number) =>
  say(
    'error',
    'out-of-reach',
    `The cutter would go to ${axis} ${mm(value)}; the machine reaches from ${mm(least)} to ${mm(most)}.`,
    locus(w),
    'Move the part or the board, or correct the machine’s envelope.',
  );

export const shallowFirstPass = (
  w: Whereabouts,
  cutter: string,
  first: number,
  needed: number,
  total: number,
) =>
  say(
    'error',
    'shallow-first-pass',
    `The first pass of compression cutter ${cutter} is ${mm(first)} deep and must be deeper than ${mm(needed)}, or its up-cut edges tear the upper veneer.`,
    locus(w),
    // No pass is deeper than what is cut.
    total > needed
      ? 'Allow a deeper pass (depthPerPass), or add a straight or down-cut cutter, or one with a shorter up-cut length.'
      : `What is cut is only ${mm(total)} deep, so deeper passes do not help: add a straight or down-cut cutter, or one with a shorter up-cut.`,
  );

export const tabOnNeighbour = (w: Whereabouts, doubtful: number, all: number, gap: number) =>
  say(
    'warning',
    'tab-on-neighbour',
    `${doubtful} of its ${all} tabs reach into the cut of a neighbour or a narrow tongue, where little is left to hold on to.`,
    locus(w),
    `Lay the parts out at least ${mm(gap)} apart, so that material stands between two cuts.`,
  );

export const entryOnWall = (w: Whereabouts, at: Point) =>
  say(
    'warning',
    'entry-on-wall',
    'There is no room beside the contour, so the cutter ramps down along it, on an edge that no plate touches.',
    locus(w, at),
    'Leave more room beside the part if that edge is seen.',
  );

export const slugToChips = (w: Whereabouts, width: number, why: string) =>
  say(
    'note',
    'slug-to-chips',
    `The piece inside, ${mm(width)} wide, is cut to chips: ${why}.`,
    locus(w),
    'It takes longer than cutting round it.',
  );

export const thickSpot = (board: string, thickest: number, depth: number, at?: Point) =>
  say(
    'warning',
    'thick-spot',
    `The board is up to ${mm(thickest)} thick and through cuts go ${mm(depth)} deep: it may not be cut through there.`,
    { board, ...(at === undefined ? {} : { at }) },
    'Set Z zero on the bed, allow more depth into the bed sheet, or lay no part there.',
  );

export const weakHolding = (w: Whereabouts, holding: number, force: number, tabs: number) =>
  say(
    'warning',
    'weak-holding',
    `Its ${tabs} tab${tabs === 1 ? '' : 's'} hold about ${Math.round(holding)} N, and the cutter pushes with up to ${Math.round(force)} N; twice the force is wanted.`,
    locus(w),
    'Make tabs wider or higher, cut less deep in one pass, or screw the part down; the figures are rough (docs/diagnostics).',
  );

export const wouldComeLoose = (
  w: Whereabouts,
  { holding, force }: { readonly holding: number; readonly force: number },
  tabs: number,
  one: number,
  assumed: boolean,
) =>
  say(
    assumed ? 'warning' : 'error',
    'would-come-loose',
    `It ${assumed ? 'may' : 'would'} come loose: its ${tabs} tab${tabs === 1 ? '' : 's'} hold about ${Math.round(holding)} N${assumed ? ' by a strength that is assumed' : ''}, less than its weight and the ${Math.round(force)} N by which the cutter pushes.`,
    locus(w),
    `One tab holds about ${Math.round(one)} N: make tabs wider or higher, cut less deep in one pass or with a smaller chip load, hold the sheet by vacuum${assumed ? ', or shear a tab and state its strength (holding.tabStrength)' : ''}.`,
  );

export const sheetWeaklyHeld = (
  w: Whereabouts,
  { holding, force }: { readonly holding: number; readonly force: number },
  screws: number,
  vacuum: boolean,
  material: string,
) =>
  say(
    'warning',
    'sheet-weakly-held',
    `What holds the sheet while it is cut (${screws} screw${screws === 1 ? '' : 's'}${vacuum ? ' and vacuum' : ''}) bears about ${Math.round(holding)} N, and the cutter pushes with up to ${Math.round(force)} N in ${material}; twice the force is wanted.`,
    locus(w),
    'Set more screws in the waste, or declare what else holds the sheet; or cut less deep in one pass. State what one screw bears as you tried it (holding.screwStrength).',
  );

export const keepOutOverPart = (w: Whereabouts, at: Point) =>
  say(
    'error',
    'keep-out-over-part',
    'A keep-out (a screw, a clamp or a defect) lies over it.',
    locus(w, at),
    'Lay the part elsewhere, or move the screw or clamp.',
  );

const of = (v: number): string => String(Math.round(v * 1000) / 1000);

export const rpmBeyondMachine = (
  w: Whereabouts,
  cutter: string,
  wanted: number,
  most: number,
  feed: number,
) =>
  say(
    'error',
    'rpm-beyond-machine',
    `Cutter ${cutter} is to turn at ${Math.round(wanted)} rev/min; the machine reaches ${Math.round(most)} rev/min.`,
    locus(w),
    `Write ${Math.floor(most)} rev/min or less for it (with its chip load the feed is then ${Math.round(feed)} mm/min), take another cutter, or correct machine.maxRpm.`,
  );

export const feedBeyondMachine = (
  w: Whereabouts,
  { id, flutes, chipLoad }: { readonly id: string; readonly flutes: number; readonly chipLoad: number },
  rpm: number,
  most: number,
) =>
  say(
    'error',
    'feed-beyond-machine',
    `Cutter ${id} is to feed at ${Math.round(flutes * chipLoad * rpm)} mm/min (${flutes} flute${flutes === 1 ? '' : 's'} × ${of(chipLoad)} mm × ${Math.round(rpm)} rev/min); the machine reaches ${Math.round(most)} mm/min.`,
    locus(w),
    `Turn at ${Math.floor(most / (flutes * chipLoad))} rev/min or less, write a chip load of ${Math.floor((most / (flutes * rpm)) * 1000) / 1000} mm or less, take fewer flutes, or correct machine.maxFeed.`,
  );

export const feedLimited = (w: Whereabouts, cutter: string, wanted: number, most: number, chip: number) =>
  say(
    'warning',
    'feed-limited',
    `By the table cutter ${cutter} would feed at ${Math.round(wanted)} mm/min, and the machine reaches ${Math.round(most)}: it feeds at that, and its chips are ${of(chip)} mm thin.`,
    locus(w),
    'Turn slower, or take a cutter with fewer flutes, so that the chips stay thick and the edge cool.',
  );

export const chipTooThin = (w: Whereabouts, cutter: string, chip: number, least: number) =>
  say(
    'warning',
    'chip-too-thin',
    `Cutter ${cutter} takes ${of(chip)} mm a tooth, less than the ${of(least)} mm that even a light machine should: it rubs and burns.`,
    locus(w),
    'Feed faster, turn slower, or take fewer flutes; the table is common practice and can be changed.',
  );

export const chipTooThick = (w: Whereabouts, cutter: string, chip: number, most: number, pass: number) =>
  say(
    'warning',
    'chip-too-thick',
    `Cutter ${cutter} takes ${of(chip)} mm a tooth in a pass of ${mm(pass)}; ${of(most)} mm is usual at the most for its diameter and that depth.`,
    locus(w),
    'Feed slower, turn faster or cut less deep in one pass; the table is common practice and can be changed.',
  );

export const tooMuchPower = (w: Whereabouts, cutter: string, needed: number, power: number, pass: number) =>
  say(
    'warning',
    'too-much-power',
    `Cutter ${cutter} may take ${Math.round(needed)} W in a pass of ${mm(pass)}; the spindle has ${Math.round(power)} W.`,
    locus(w),
    'Cut less deep in one pass, or feed slower.',
  );

export const cutterBends = (
  w: Whereabouts,
  cutter: string,
  bend: number,
  most: number,
  force: number,
  length: number,
) =>
  say(
    'warning',
    'cutter-bends',
    `Cutter ${cutter}, ${mm(length)} long, may bend by ${of(bend)} mm under ${Math.round(force)} N; ${of(most)} mm is put up with.`,
    locus(w),
    'Cut less deep in one pass, feed slower, or take a shorter or thicker cutter.',
  );

export const noFinishing = (w: Whereabouts, stock: number, why: string) =>
  say(
    'note',
    'no-finishing',
    `${w.feature} is cut to size at once, without ${mm(stock)} left for a finishing pass: ${why}.`,
    locus(w),
    'Take a thinner cutter, or less stock, where its walls shall be finished.',
  );

export const ticketOnSeenFace = (w: Whereabouts, text: string) =>
  say(
    'note',
    'ticket-on-seen-face',
    `'${text}' is not engraved: the face that lies up is the one that is seen.`,
    locus(w),
    'Mark it by hand on the other face, or turn the part over in the layout.',
  );

export const noGlyph = (w: Whereabouts, text: string, letters: readonly string[]) =>
  say(
    'note',
    'no-glyph',
    `'${text}' is engraved with gaps: there are no strokes for ${letters.map((l) => `'${l}'`).join(', ')}.`,
    locus(w),
    'Use A to Z, 0 to 9, -, . and /.',
  );

export const noRoomForTicket = (w: Whereabouts, text: string, width: number, height: number) =>
  say(
    'note',
    'no-room-for-ticket',
    `'${text}' is not engraved: no place of ${mm(width)} × ${mm(height)} is clear of edges and cuts.`,
    locus(w),
    'Take lower letters, a thinner cutter or a shorter text, or mark the part by hand.',
  );

export const ticketCutter = (w: Whereabouts, cutter: string) =>
  say(
    'error',
    'ticket-cutter',
    `The text is to be engraved with ${cutter}, which is no router of this job.`,
    locus(w),
    'Name one of the job’s routers for engraving.',
  );

export const tabAtSeenCorner = (w: Whereabouts, wanted: number) =>
  say(
    'warning',
    'tab-at-seen-corner',
    `It is seen when the piece stands, and there is no room for its tabs ${mm(wanted)} off its corners: one stands nearer.`,
    locus(w),
    'Take fewer or narrower tabs, or pare that tab off with care so that the corner does not tear.',
  );

export const finishBends = (
  w: Whereabouts,
  cutter: string,
  bend: number,
  most: number,
  force: number,
  stock: number,
) =>
  say(
    'warning',
    'finish-bends',
    `Cutter ${cutter} may bend by ${of(bend)} mm under ${Math.round(force)} N while it finishes walls with ${mm(stock)} of stock; ${of(most)} mm is put up with.`,
    locus(w),
    'Leave less stock, or take a shorter or thicker cutter: the joints’ walls would be off by that.',
  );

export const freedUnheld = (
  w: Whereabouts,
  skin: number,
  { holding, force }: { readonly holding: number; readonly force: number },
) =>
  say(
    'warning',
    'freed-unheld',
    `When the last of its skin of ${mm(skin)} is cut, ${holding > 0 ? `about ${Math.round(holding)} N of vacuum hold` : 'nothing holds'} it, and the cutter pushes with up to ${Math.round(force)} N; twice the force is wanted.`,
    locus(w),
    'Take a thinner skin or more vacuum, hold the piece down by hand with a stick, or take tabs.',
  );

export const noOvercut = (board: string) =>
  say(
    'warning',
    'no-overcut',
    'The machine allows no depth into the bed sheet, so through cuts end exactly at the underside.',
    { board, path: 'machine.spoilboard' },
    'Lay a bed sheet under the board and allow 0.2 to 0.3 mm.',
  );
