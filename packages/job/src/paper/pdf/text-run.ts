/** Letters that are set in one font, a standard one or the embedded one. */
export interface TextRun {
  readonly font: 'standard' | 'outline';
  readonly text: string;
}
