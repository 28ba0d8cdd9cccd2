import type { Point } from '@haunch/geometry';
import type { DrawnPiece } from './draw-piece.js';
import { tenth } from './path-data.js';
import { labelGroup, pieceGroup } from './piece-group.js';
import { CARD, CARD_BORDER, SOFT_INK } from './shade.js';
import { xml } from './xml.js';

/** A piece to be set on a card, and a word below it. */
export interface CardPiece {
  readonly drawn: DrawnPiece;
  readonly caption?: string;
}

/** What stands on a card and how wide it is, px. */
export interface Card {
  readonly title: string;
  readonly description: string;
  readonly pieces: readonly CardPiece[];
  readonly width: number;
  readonly labels: boolean;
}

/** All in px. */
const MARGIN = 34;
const BETWEEN = 56;
const CAPTION = 30;
const LETTER = 11.5;
/** A slender piece makes a card no higher than this share of its width. */
const TALLEST = 1.25;

/** Pieces side by side on a card of their own colour, so that any surroundings do: one scale, one floor line. */
export function cardSvg({ title, description, pieces, width, labels }: Card): string {
  const wide = (p: CardPiece): number => p.drawn.box.maxX - p.drawn.box.minX;
  const tall = Math.max(...pieces.map(({ drawn: { box } }) => box.maxY - box.minY));
  const caption = pieces.some((p) => p.caption !== undefined) ? CAPTION : 0;
  const free = width - 2 * MARGIN - BETWEEN * (pieces.length - 1);
  const sum = pieces.reduce((s, p) => s + wide(p), 0);
  const scale = Math.min(free / sum, (TALLEST * width) / tall);
  const height = Math.ceil(tall * scale + 2 * MARGIN + caption);
  const floor = height - MARGIN - caption;
  const body: string[] = [];
  let left = MARGIN + (free - sum * scale) / 2;
  for (const piece of pieces) {
    const { box } = piece.drawn;
    const x0 = left;
    const place = (p: Point): Point => ({
      x: x0 + scale * (p.x - box.minX),
      y: floor - scale * (p.y - box.minY),
    });
    body.push('<g>', ...pieceGroup(piece.drawn, place));
    if (labels)
      body.push(...labelGroup(piece.drawn, place, { letter: LETTER, width, height: height - caption }));
    if (piece.caption !== undefined)
      body.push(
        `<text x="${tenth(x0 + (scale * wide(piece)) / 2)}" y="${tenth(height - MARGIN + 8)}" fill="${SOFT_INK}" font-size="13" text-anchor="middle">${xml(piece.caption)}</text>`,
      );
    body.push('</g>');
    left += scale * wide(piece) + BETWEEN;
  }
  const w = tenth(width);
  return `${[
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${w} ${height}" width="${w}" height="${height}" role="img" font-family="system-ui, sans-serif">`,
    `<title>${xml(title)}</title>`,
    `<desc>${xml(description)}</desc>`,
    `<rect x="0.5" y="0.5" width="${tenth(width - 1)}" height="${height - 1}" rx="10" fill="${CARD}" stroke="${CARD_BORDER}"/>`,
    ...body,
    '</svg>',
  ].join('\n')}\n`;
}
