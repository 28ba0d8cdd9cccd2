/** How a walk over the groups of a DXF ended. */
export type CursorEnd = 'text ended' | 'cut in a group' | 'bad group code';

/**
 * A forward walk over the groups of a DXF (DXF reference, "group codes"), in text or binary form. After `next()`
 * answers true, `code`, `line` and the bytes `from` … `to` describe the group; after false, `end` says why. Values
 * stay bytes until someone asks for one, so that what is not read costs nothing. Never throws.
 */
export interface GroupSource {
  readonly code: number;
  /** Line of the group code, from 1; in a binary file the line that it would have in the text form. */
  readonly line: number;
  readonly from: number;
  readonly to: number;
  readonly end: CursorEnd | null;
  /** What stood where a group code was expected, when `end` is `bad group code`. */
  readonly badCode: string;
  /** Lines read so far. */
  readonly linesRead: number;
  next(): boolean;
  /** The bytes in which `from` and `to` count. */
  readonly bytes: Uint8Array;
  /** A value as it stands. */
  text(code: number, from: number, to: number): string;
  /** A value as a number, NaN where it is none. */
  number(code: number, from: number, to: number): number;
}
