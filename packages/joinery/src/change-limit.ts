/**
 * The most by which a new sheet may be thicker or thinner than the one that was drawn for, as a ratio: beyond it webs, tenons
 * and reach are no longer what was designed, and a wrong unit is likelier. Ours; common practice, no source.
 */
export const MOST_TIMES = 3;

/** Whether a change of thickness is beyond what a refit is for. mm */
export const tooFar = (from: number, to: number): boolean =>
  Math.max(to / from, from / to) > MOST_TIMES * (1 + 1e-9);

const mm = (value: number): string => `${+value.toFixed(3)} mm`;

/** Says of a change that is too far how far it is, and what to do. mm */
export const farWords = (from: number, to: number): { readonly message: string; readonly hint: string } => ({
  message: `it is drawn for ${mm(from)}, and ${mm(to)} is ${to > from ? `${+(to / from).toFixed(2)} times` : `1/${+(from / to).toFixed(2)} of`} that; a refit goes up to ${MOST_TIMES} times as thick or as thin`,
  hint: 'Check both thicknesses and their units. For such a sheet the piece wants a drawing of its own: webs, tenons and reach are no longer what was meant.',
});
