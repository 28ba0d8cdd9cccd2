import { THICKEST, THINNEST } from './thickness-measures.js';

/** A text in a drawing, or the name of a layer. */
export interface Saying {
  readonly text: string;
  /** How to call its place, such as `layer 'PLY 18'`. */
  readonly from: string;
}

/** Words beside which a length is a sheet's: material, sheet, thickness, in a few languages. */
const ABOUT_SHEETS =
  /material|thick|\bthk\b|sheet|stock|board|ply(?:wood)?|\bmdf\b|birch|acrylic|plexi|st(?:ä|ae)rke|dicke|platte|holz|(?:é|e)paisseur|panneau|spessore|espesor|grosor|tablero|dikte/i;

/** Lengths with their unit: `18mm`, `18,5 mm`, `3/4"`, `0.731 in`, `1 1/2 inch`. */
const LENGTH = /(?<![\d.,/])(?:(\d+)[ -])?(\d+(?:[.,]\d+)?|\d+\/\d+)\s*(mm|in(?:ch(?:es)?)?\b|"|''|″)/gi;
/** A thickness after T= or t:, without a unit. */
const BARE = /(?:^|[\s_,;(])t\s*[=:]\s*(\d+(?:[.,]\d+)?)(?![\d/])/gi;

function number(text: string): number {
  const [a, b] = text.split('/');
  return b === undefined ? Number(text.replace(',', '.')) : Number(a) / Number(b);
}

/** Thicknesses that texts and layer names state, in the order in which they are said, none twice. mm */
export function statedThicknesses(
  said: readonly Saying[],
): { readonly value: number; readonly from: string }[] {
  const out: { value: number; from: string }[] = [];
  for (const { text, from } of said) {
    const short = text.trim().length <= 24;
    const found: number[] = [];
    // A long text speaks of many lengths; only where it names sheets is one of them likely a thickness.
    if (short || ABOUT_SHEETS.test(text))
      for (const m of text.matchAll(LENGTH)) {
        const value = number(m[2]!) + (m[1] === undefined || m[3]!.toLowerCase() === 'mm' ? 0 : Number(m[1]));
        found.push(m[3]!.toLowerCase() === 'mm' ? value : value * 25.4);
      }
    for (const m of text.matchAll(BARE)) found.push(number(m[1]!));
    for (const v of found) {
      const value = Number(v.toFixed(4));
      if (value < THINNEST || value > THICKEST) continue;
      if (!out.some((o) => o.value === value && o.from === from)) out.push({ value, from });
    }
  }
  return out;
}
