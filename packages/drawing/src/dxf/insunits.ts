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
