/** A program to be proved. */
export interface ProgramText {
  readonly text: string;
  readonly file: string;
}
