/** Modal groups of G codes (NISTIR 6556, Table 4), by ten times the code's number. */
const G_GROUPS: readonly (readonly [group: number, tenths: readonly number[]])[] = [
  [0, [40, 100, 280, 300, 530, 920, 921, 922, 923]],
  [1, [0, 10, 20, 30, 382, 800, 810, 820, 830, 840, 850, 860, 870, 880, 890]],
  [2, [170, 180, 190]],
  [3, [900, 910]],
  [5, [930, 940]],
  [6, [200, 210]],
  [7, [400, 410, 420]],
  [8, [430, 490]],
  [10, [980, 990]],
  [12, [540, 550, 560, 570, 580, 590, 591, 592, 593]],
  [13, [610, 611, 640]],
];

/** Modal groups of M codes (NISTIR 6556, Table 4). */
const M_GROUPS: readonly (readonly [group: number, codes: readonly number[]])[] = [
  [4, [0, 1, 2, 30, 60]],
  [6, [6]],
  [7, [3, 4, 5]],
  [8, [7, 8, 9]],
  [9, [48, 49]],
];

function table(size: number, groups: typeof G_GROUPS): Int8Array {
  const out = new Int8Array(size).fill(-1);
  for (const [group, codes] of groups) for (const code of codes) out[code] = group;
  return out;
}

/** Modal group by ten times the G code's number, −1 where there is no such code. */
export const G_GROUP: Int8Array = table(1000, G_GROUPS);
/** Modal group by the M code's number, −1 where there is no such code. */
export const M_GROUP: Int8Array = table(100, M_GROUPS);

/** A G code as it is written, from ten times its number. */
export const gName = (tenths: number): string => `G${tenths / 10}`;

/** The bit of a letter in a word mask. */
export const bit = (letter: string): number => 1 << (letter.charCodeAt(0) - 65);

/** The bits of several letters. */
export const bits = (letters: string): number => [...letters].reduce((m, l) => m | bit(l), 0);
