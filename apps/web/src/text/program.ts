/** The Program screen. */
export const programText = {
  lead: 'What the machine is told, line by line.',
} as const;
