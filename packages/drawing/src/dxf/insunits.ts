/** What a code of the header variable $INSUNITS means: name and millimetres. */
export interface HeaderUnit {
  readonly name: string;
  readonly factor: number;
}

/**
 * The codes of $INSUNITS in which someone draws things that are cut from a sheet (DXF reference, $INSUNITS).
 * Code 0 is "unspecified"; codes for microinches, light years and the like are taken as unusable.
 */
export const HEADER_UNITS: ReadonlyMap<number, HeaderUnit> = new Map([
  [1, { name: 'inch', factor: 25.4 }],
  [2, { name: 'foot', factor: 304.8 }],
  [4, { name: 'mm', factor: 1 }],
  [5, { name: 'cm', factor: 10 }],
  [6, { name: 'm', factor: 1000 }],
  [9, { name: 'mil', factor: 0.0254 }],
  [10, { name: 'yard', factor: 914.4 }],
  [13, { name: 'micron', factor: 0.001 }],
  [14, { name: 'dm', factor: 100 }],
]);

const COMMENT =
  /^\s*units?\s*[:=]?\s*(mm|millimet(?:er|re)s?|cm|centimet(?:er|re)s?|m|met(?:er|re)s?|in|inch|inches)\s*\.?\s*$/i;

/** The unit that a comment such as `Unit: mm` at the head of a file states: R12 has no $INSUNITS. */
export function commentUnit(comments: readonly string[]): HeaderUnit | null {
  for (const c of comments) {
    const word = COMMENT.exec(c)?.[1]?.toLowerCase();
    if (word === undefined) continue;
    if (word.startsWith('mm') || word.startsWith('milli')) return HEADER_UNITS.get(4)!;
    if (word.startsWith('c')) return HEADER_UNITS.get(5)!;
    if (word.startsWith('m')) return HEADER_UNITS.get(6)!;
    return HEADER_UNITS.get(1)!;
  }
  return null;
}
