/** The Fit screen. */
export const fitText = {
  lead: 'What the cutter really cuts, and how tight the joints shall be.',
  noLadderYet: 'First look at the piece: no ladder has been cut yet, so the usual clearances stand in.',
} as const;
