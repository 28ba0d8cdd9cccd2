/** Program text and, for every line (from 0), the index of the move that it carries out; null for others. */
export interface Program {
  readonly kind: 'program';
  readonly board: string;
  readonly dialect: string;
  readonly extension: string;
  readonly text: string;
  readonly lineMoves: readonly (number | null)[];
}
