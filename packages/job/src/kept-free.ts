import { type Box, offsetRing, type Ring, rectangleRing, ringBounds } from '@haunch/geometry';
import type { Board, Cutter } from '@haunch/model';

/** What decides how much of a board stays free beside parts. */
interface Shop {
  readonly cutters: readonly Pick<Cutter, 'kind' | 'diameter' | 'fluteLength'>[];
  readonly machine: { readonly hoodRadius?: number | undefined };
  /** The router that cuts profiles. */
  readonly router: Pick<Cutter, 'diameter'>;
}

/** The kerfs of a board's trimming cuts, from edge to edge: as wide as the widest router that reaches through the sheet. mm */
export function trimKerfs({ outline, thickness, trims = [] }: Board, { cutters, router }: Shop): Box[] {
  const through = cutters.filter((c) => c.kind === 'router' && c.fluteLength >= thickness);
  const width = Math.max(router.diameter, ...through.map((c) => c.diameter));
  const box = ringBounds(outline);
  return trims.map(({ along, at, waste }): Box => {
    const [low, high] = waste === 'above' ? [at, at + width] : [at - width, at];
    return along === 'x' ? { ...box, minY: low, maxY: high } : { ...box, minX: low, maxX: high };
  });
}

/** Half the width of the line that stands for a kerf: a layout keeps its spacing, two cutters and a web, from a line in the middle of it. mm */
const LINE = 0.05;

/**
 * What a layout of parts lays nothing over, beside the parts themselves: the board's keep-outs, grown where the hood is wider than the
 * cutter, and the kerfs of its trimming cuts. With a spacing of two cutters and a web from them, a web at least stays beside every trimming
 * cut, and the hood stays as far from keep-outs as the cutter does without one. mm
 */
export function keptFree(board: Board, shop: Shop): Ring[] {
  const more = (shop.machine.hoodRadius ?? 0) - shop.router.diameter / 2;
  const off = more > 0 ? board.keepOuts.flatMap((k) => offsetRing(k, { by: more })) : board.keepOuts;
  const { minX, minY, maxX, maxY } = ringBounds(board.outline);
  const lines = trimKerfs(board, shop).flatMap((k): Ring[] => {
    const level = k.minX === minX && k.maxX === maxX;
    const middle = level ? (k.minY + k.maxY) / 2 : (k.minX + k.maxX) / 2;
    // Beyond the board nothing is laid anyway.
    if (middle <= (level ? minY : minX) + LINE || middle >= (level ? maxY : maxX) - LINE) return [];
    return [
      level
        ? rectangleRing(minX, middle - LINE, maxX, middle + LINE)
        : rectangleRing(middle - LINE, minY, middle + LINE, maxY),
    ];
  });
  return [...off, ...lines];
}

/** What takes room on boards beside parts, in words; nothing where they are bare. */
export function takingRoom(boards: readonly Board[], { hoodRadius }: Shop['machine']): string[] {
  const off = boards.some((b) => b.keepOuts.length > 0);
  return [
    ...(off
      ? [`keep-outs (screws, pins, zones)${hoodRadius ? ` with a hood of ${hoodRadius} mm` : ''}`]
      : []),
    ...(boards.some((b) => (b.trims ?? []).length > 0) ? ['trimming cuts'] : []),
    ...(boards.some((b) => (b.defects ?? []).length > 0) ? ['flaws of faces that are seen'] : []),
  ];
}

/** A board without its trimming cuts, for what is cut from it beside the job's parts: a ladder, a lost part. */
export function withoutTrims({ trims: _, ...board }: Board): Board {
  return board;
}
