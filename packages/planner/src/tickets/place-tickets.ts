import { circleRing, type Point, pointInRing, type Ring, ringBounds, snap } from '@haunch/geometry';
import type { Diagnostic } from '@haunch/model';
import { distanceTo, type Obstacle, obstacleOf, staysClear } from '../clear-of.js';
import * as say from '../diagnostics.js';
import { line } from '../path.js';
import type { PlacedPart, PlanInput } from '../plan-input.js';
import { TICKET_MARGIN } from '../practice.js';
import { type StrokedText, strokedText } from './glyphs.js';
import type { Engraving, Ticket } from './ticket.js';

/** Places tried along each side of a part. */
const TRIED = 24;

interface Spot {
  readonly corner: Point;
  readonly upright: boolean;
  readonly room: number;
}

/** The rectangle of a text laid at a corner, along X or, upright, along Y; `by` wider all round. */
function frameOf({ x, y }: Point, upright: boolean, text: StrokedText, height: number, by: number): Ring {
  const [w, h] = upright ? [height, text.width] : [text.width, height];
  const [x0, y0, x1, y1] = [x - by, y - by, x + w + by, y + h + by];
  return {
    vertices: [
      [x0, y0],
      [x1, y0],
      [x1, y1],
      [x0, y1],
    ].map(([u, v]) => ({ x: u!, y: v!, bulge: 0 })),
  };
}

/** The roomiest place for a text in a part: within its outline, and off every edge, opening, recess and hole. */
function roomiest({ part }: PlacedPart, text: StrokedText, height: number, clear: number): Spot | undefined {
  const outline = part.outline.ring;
  const cuts = [
    ...[...part.through, ...part.pockets].map((c) => c.ring),
    ...part.holes.map((h) => circleRing(h.centre, h.diameter / 2)),
  ];
  const edges: Obstacle = obstacleOf([outline, ...cuts]);
  const box = ringBounds(outline);
  let best: Spot | undefined;
  for (const upright of [false, true]) {
    const [w, h] = upright ? [height, text.width] : [text.width, height];
    for (let i = 0; i <= TRIED; i++)
      for (let k = 0; k <= TRIED; k++) {
        const corner = {
          x: box.minX + ((box.maxX - box.minX - w) * i) / TRIED,
          y: box.minY + ((box.maxY - box.minY - h) * k) / TRIED,
        };
        const middle = { x: corner.x + w / 2, y: corner.y + h / 2 };
        // What is nearer to the middle than the text's own half length need not be asked for more room.
        const room = distanceTo(edges, middle) - Math.min(w, h) / 2;
        if (room < clear || (best !== undefined && room <= best.room + 1e-6)) continue;
        const frame = frameOf(corner, upright, text, height, 0);
        const sides = frame.vertices.map((v, n) => line(v, frame.vertices[(n + 1) % 4]!));
        if (!frame.vertices.every((v) => pointInRing(outline, v) === 'inside')) continue;
        const covers = cuts.some(
          (c) => pointInRing(frame, c.vertices[0]!) !== 'outside' || pointInRing(c, middle) !== 'outside',
        );
        if (!covers && staysClear(sides, edges, clear)) best = { corner, upright, room };
      }
  }
  return best;
}

/**
 * Finds a place for the text of every item: within the part and clear of its edges and cuts, so of its mates, along X or along Y,
 * where there is most room. No text where the seen face lies up, or where there is no room: notes tell of both.
 * @throws RangeError when the engraving names no cutter of the job, or its depth or height is not positive.
 */
export function placeTickets(
  { items, cutters, board }: Pick<PlanInput, 'items' | 'cutters' | 'board'>,
  engraving: Engraving,
): { readonly tickets: readonly Ticket[]; readonly diagnostics: readonly Diagnostic[] } {
  const cutter = cutters.find((c) => c.id === engraving.cutter);
  if (cutter === undefined) throw new RangeError(`placeTickets: there is no cutter ${engraving.cutter}`);
  const { depth, height = 10 * cutter.diameter } = engraving;
  if (!(depth > 0)) throw new RangeError(`placeTickets: ${depth} mm deep`);
  const diagnostics: Diagnostic[] = [];
  const tickets = items.flatMap((placed): Ticket[] => {
    const { item, part } = placed;
    const words = engraving.texts?.[item] ?? item;
    if (words === '') return [];
    const w = { item, feature: `${item}.ticket`, board: board.id };
    if (part.showFace === part.cutFace) {
      diagnostics.push(say.ticketOnSeenFace(w, words));
      return [];
    }
    const text = strokedText(words, height);
    if (text.unknown.length > 0) diagnostics.push(say.noGlyph(w, words, text.unknown));
    const spot = roomiest(placed, text, height, cutter.diameter / 2 + TICKET_MARGIN);
    if (spot === undefined) {
      diagnostics.push(say.noRoomForTicket(w, words, text.width, height));
      return [];
    }
    const { corner, upright } = spot;
    const placedAt = ({ x, y }: Point): Point =>
      upright
        ? { x: snap(corner.x + height - y), y: snap(corner.y + x) }
        : { x: snap(corner.x + x), y: snap(corner.y + y) };
    return [
      { item, text: words, cutter: cutter.id, depth, strokes: text.strokes.map((s) => s.map(placedAt)) },
    ];
  });
  return { tickets, diagnostics };
}
