/** The screens, in the order in which a job goes through them. */
export const SCREENS = ['drawing', 'boards', 'fit', 'layout', 'program', 'proof', 'assembly'] as const;
/** The name of a screen, as its address has it. */
export type ScreenName = (typeof SCREENS)[number];

/** The screen that an address names; the first where it names none. */
export const screenOf = (hash: string): ScreenName =>
  SCREENS.find((s) => hash.replace(/^#/, '').split('/')[0] === s) ?? 'drawing';
