/** What a code of the header variable $INSUNITS means: name and millimetres. */
export interface HeaderUnit {
  readonly name: string;
  readonly factor: number;
}

const AU = 149_597_870_700_000;

/**
 * The codes of $INSUNITS (DXF reference, $INSUNITS; code 0 is "unspecified") in millimetres: inch and yard by the
 * agreement of 1959, survey units by the US survey foot of 1200/3937 m (NIST SP 811), astronomical unit and parsec
 * by the IAU (2012 B2, 2015 B2).
 */
export const HEADER_UNITS: ReadonlyMap<number, HeaderUnit> = new Map([
  [1, { name: 'inch', factor: 25.4 }],
  [2, { name: 'foot', factor: 304.8 }],
  [3, { name: 'mile', factor: 1_609_344 }],
  [4, { name: 'mm', factor: 1 }],
  [5, { name: 'cm', factor: 10 }],
  [6, { name: 'm', factor: 1000 }],
  [7, { name: 'km', factor: 1e6 }],
  [8, { name: 'microinch', factor: 25.4e-6 }],
  [9, { name: 'mil', factor: 0.0254 }],
  [10, { name: 'yard', factor: 914.4 }],
  [11, { name: 'angstrom', factor: 1e-7 }],
  [12, { name: 'nanometre', factor: 1e-6 }],
  [13, { name: 'micron', factor: 0.001 }],
  [14, { name: 'dm', factor: 100 }],
  [15, { name: 'decametre', factor: 1e4 }],
  [16, { name: 'hectometre', factor: 1e5 }],
  [17, { name: 'gigametre', factor: 1e12 }],
  [18, { name: 'astronomical unit', factor: AU }],
  [19, { name: 'light year', factor: 9_460_730_472_580_800 * 1000 }],
  [20, { name: 'parsec', factor: (AU * 648_000) / Math.PI }],
  [21, { name: 'US survey foot', factor: 1_200_000 / 3937 }],
  [22, { name: 'US survey inch', factor: 100_000 / 3937 }],
  [23, { name: 'US survey yard', factor: 3_600_000 / 3937 }],
  [24, { name: 'US survey mile', factor: (1_200_000 / 3937) * 5280 }],
]);

/** Whether someone may draw in this unit what is cut from a sheet: no atom and no star is. */
export const isShopUnit = (u: HeaderUnit): boolean => u.factor >= 1e-3 && u.factor <= 1e4;

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
