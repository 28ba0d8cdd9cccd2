/*
 * Starting values of the trade. All of them: common practice, no source. They are gathered here so that who
 * disagrees finds them in one place.
 */

/** How far a through cut goes below the sheet's underside at most, mm. */
export const OVERCUT = 0.3;
/** What the first pass of a compression cutter must be deeper than its up-cut length, mm. */
export const COMPRESSION_MARGIN = 0.5;
/** Feed of entries and of descents on tabs, as a part of the cutting feed. */
export const RAMP_FEED = 0.5;
/** A drill fits a hole whose diameter differs by no more than this, mm. */
export const DRILL_TOLERANCE = 0.15;
/** Distance between neighbouring passes of clearing, as a part of the cutter's diameter. */
export const STEP_OVER = 0.45;
/** Height above what is already cut at which a descent slows down to the ramp feed, mm. */
export const SLOW_DOWN_ABOVE = 2;
/** What a helical bore leaves on the wall for its last full turn, mm. */
export const BORE_FINISH = 0.3;
/** The least path radius of a helical bore, as a part of the cutter's diameter: a tighter helix burns. */
export const TIGHTEST_BORE = 0.1;
/** Clear air between a cutter on its way in and what must not be touched, mm. */
export const ENTRY_AIR = 0.5;
/** Free stretch between a tab and a corner, a relief or a mating edge, mm, added to the cutter's diameter. */
export const TAB_MARGIN = 3;
/** Slope by which the cutter rises on to a tab and leaves it, radians. */
export const TAB_SLOPE = Math.PI / 4;
/** From a tab's edge to a corner of a part with a seen face, mm: the nib's stub would tear the corner that one sees. */
export const SEEN_CORNER = 25;
/** An arc flatter than this radius may carry a tab when no straight stretch does, mm. */
export const TAB_ARC_RADIUS = 100;
/** What roughing leaves on a wall that another plate touches, for the finishing pass at full depth, mm. */
export const FINISH_STOCK = 0.3;
/** How much faster than its cutting feed a finishing pass may run so that its thin chips become thicker. */
export const FASTEST_FINISH = 1.5;
/** How far before an inside corner a finishing pass slows down, mm. */
export const CORNER_STRETCH = 3;
/** How far a finishing pass keeps its feed beside the wall that it finishes, mm. */
export const FINISH_BESIDE = 3;
/** Wood left between an engraved text and the nearest edge or cut, mm. */
export const TICKET_MARGIN = 3;
/** Seconds that a change of cutter takes, without the spindle's start. */
export const TOOL_CHANGE_SECONDS = 10;
/** How far the machine may round a corner off, mm: sets the speed through it. */
export const CORNER_TOLERANCE = 0.02;
/** Material that a drill's point leaves between a blind hole and the other face, mm. */
export const UNDER_POINT = 1;
/** How far a drill's full diameter goes below the sheet's underside, mm: its point has gone through before. */
export const DRILL_OVERCUT = 0.1;
