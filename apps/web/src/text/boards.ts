/** The Boards screen. */
export const boardsText = {
  lead: 'What the sheets really are: measured where you stand, with what is still not known of them.',
} as const;
