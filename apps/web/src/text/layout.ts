/** The Layout screen. */
export const layoutText = {
  lead: 'Where each part lies on which board.',
} as const;
