/** The Assembly screen. */
export const assemblyText = {
  lead: 'How it goes together, step by step.',
} as const;
