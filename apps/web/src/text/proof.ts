/** The Proof screen. */
export const proofText = {
  lead: 'Every joint and every rule, on the parts as the program would cut them.',
} as const;
