/** Paper that sheets are made for: ISO 216 A4, and Letter of ANSI/ASME Y14.1 (8½ × 11 in). */
export type PageName = 'A4' | 'Letter';

/** Width and height of a page held upright, mm. */
export const PAGE_SIZES: Readonly<Record<PageName, readonly [number, number]>> = {
  A4: [210, 297],
  Letter: [215.9, 279.4],
};
