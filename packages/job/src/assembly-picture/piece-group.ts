import type { Point, Polygon } from '@haunch/geometry';
import type { DrawnPiece } from './draw-piece.js';
import { areasPath, linesPath, tenth } from './path-data.js';
import { type Label, type LabelledArea, type LabelRoom, placeLabels, wordHalf } from './place-labels.js';
import { areaOf } from './polygon-area.js';
import { INK, SHADOW, shade } from './shade.js';
import { xml } from './xml.js';

/** From the picture plane of a piece (mm, y up) to the paper (px, y down). */
export type Place = (p: Point) => Point;

const INNER_LINE = 0.6;
const CONTOUR_LINE = 1.2;
/** A hair of its own tone round each area closes the seams that smoothing leaves between neighbours. */
const HAIR = 0.5;
const DOT = 1.6;

function toneGroups(drawn: DrawnPiece, place: Place): string[] {
  const plates = new Map<string, Map<string, Polygon[]>>();
  for (const { face, polygons } of drawn.faces) {
    const tones = plates.get(face.plate) ?? new Map<string, Polygon[]>();
    plates.set(face.plate, tones);
    const tone = shade(face.normal);
    tones.set(tone, [...(tones.get(tone) ?? []), ...polygons.map((p) => p.map(place))]);
  }
  return [...plates].flatMap(([plate, tones]) => {
    const paths = [...tones].flatMap(([tone, polygons]) => {
      const d = areasPath(polygons);
      return d === '' ? [] : [`<path fill="${tone}" stroke="${tone}" d="${d}"/>`];
    });
    return paths.length === 0 ? [] : [`<g data-part="${xml(plate)}">${paths.join('')}</g>`];
  });
}

/** A drawn piece on the paper: its shadow, the tones of its sides, thin inner lines and firmer contours. */
export function pieceGroup(drawn: DrawnPiece, place: Place): string[] {
  const path = (contour: boolean): string =>
    linesPath(
      drawn.lines.filter((l) => l.contour === contour).map((l) => ({ from: place(l.from), to: place(l.to) })),
    );
  const shadow = areasPath(drawn.shadow.map((p) => p.map(place)));
  return [
    ...(shadow === '' ? [] : [`<path fill="${SHADOW}" d="${shadow}"/>`]),
    `<g fill-rule="evenodd" stroke-width="${HAIR}">`,
    ...toneGroups(drawn, place),
    '</g>',
    `<g fill="none" stroke="${INK}" stroke-linecap="round" stroke-linejoin="round">`,
    `<path stroke-width="${INNER_LINE}" d="${path(false)}"/>`,
    `<path stroke-width="${CONTOUR_LINE}" d="${path(true)}"/>`,
    '</g>',
  ];
}

/** The biggest visible side of every part, on the paper. */
export function biggestSides(drawn: DrawnPiece, place: Place): LabelledArea[] {
  const biggest = new Map<string, { readonly polygons: readonly Polygon[]; readonly area: number }>();
  for (const { face, polygons } of drawn.faces) {
    const area = areaOf(polygons);
    if (area > (biggest.get(face.plate)?.area ?? 0)) biggest.set(face.plate, { polygons, area });
  }
  return [...biggest].map(([text, { polygons }]) => ({
    text,
    polygons: polygons.map((p) => p.map(place)),
  }));
}

function labelText({ text, at, anchor }: Label, letter: number): string {
  const word = `<text x="${tenth(at.x)}" y="${tenth(at.y)}" dy="0.35em">${xml(text)}</text>`;
  if (!anchor) return word;
  const half = wordHalf(text, letter);
  const [dx, dy] = [anchor.x - at.x, anchor.y - at.y];
  // The line starts where it leaves the word's box.
  const share = Math.min(half.x / Math.abs(dx), half.y / Math.abs(dy), 1);
  const from = { x: at.x + dx * share, y: at.y + dy * share };
  return `<path stroke="${INK}" stroke-width="${INNER_LINE}" d="${linesPath([{ from, to: anchor }])}"/><circle cx="${tenth(anchor.x)}" cy="${tenth(anchor.y)}" r="${DOT}"/>${word}`;
}

/** The parts' ids on the paper, as many as find room. */
export function labelGroup(
  drawn: DrawnPiece,
  place: Place,
  room: Pick<LabelRoom, 'letter' | 'width' | 'height'>,
): string[] {
  const silhouette = drawn.silhouette.map((p) => p.map(place));
  return [
    `<g fill="${INK}" font-size="${room.letter}" text-anchor="middle">`,
    ...placeLabels(biggestSides(drawn, place), { ...room, silhouette }).map((l) => labelText(l, room.letter)),
    '</g>',
  ];
}
