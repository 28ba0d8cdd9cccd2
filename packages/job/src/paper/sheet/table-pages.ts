/** The rows of each block of columns on a page: the first, and the one after the last. */
export type TablePage = readonly (readonly [from: number, to: number])[];

/** Of a page that all rows fit on, so much may be used: blocks of rows of several lines come out unevenly. */
const EVENLY = 0.9;

/**
 * How rows of such heights are shared out among pages and the blocks of columns on them. `first` is the room for rows on the first page,
 * `next` that on every other; a row that is higher than a page stands alone on one. What fits on one page is shared out evenly. mm
 */
export function tablePages(
  heights: readonly number[],
  { blocks, first, next }: { readonly blocks: number; readonly first: number; readonly next: number },
): TablePage[] {
  const pages: TablePage[] = [];
  let at = 0;
  while (at < heights.length) {
    const room = pages.length === 0 ? first : next;
    const left = heights.length - at;
    const all = heights.slice(at).reduce((sum, h) => sum + h, 0);
    const most = all < EVENLY * blocks * room ? Math.ceil(left / blocks) : left;
    const page: (readonly [number, number])[] = [];
    for (let block = 0; block < blocks && at < heights.length; block++) {
      const from = at;
      let used = 0;
      while (at < heights.length && at - from < most && (at === from || used + heights[at]! <= room))
        used += heights[at++]!;
      page.push([from, at]);
    }
    pages.push(page);
  }
  return pages;
}
