import { circleRing, rectangleRing } from '@haunch/geometry';
import type { CurveStyle, Picture, PictureCurve, PictureLabel } from './picture.js';
import { svgNumber as n, pathData } from './svg/path-data.js';
import { LOOKS, styleSheet } from './svg/picture-style.js';
import { xmlName, xmlText } from './svg/xml-text.js';

/** How a picture is to be written. */
export interface FormatSvgOptions {
  /** Goes before every id and class scope, so that several pictures can stand in one page. */
  readonly prefix?: string;
}

/** The legend's letters, and the margin, as shares of the picture's greater side. */
const LETTER = 1 / 90;
const MARGIN = 1 / 40;

/**
 * A picture as SVG text: the view box in mm, y up as on the table, arcs as arcs, one `g` a group with its id and
 * class, titles as tooltips, and a legend of the styles that occur. Light and dark surroundings are heeded, and
 * line and hatch alone tell everything that colour tells. All text is escaped. Same picture, same bytes.
 * @throws RangeError when the bounds are not finite or have no size.
 */
export function formatSvg(picture: Picture, options: FormatSvgOptions = {}): string {
  const { minX, minY, maxX, maxY } = picture.bounds;
  const [w, h] = [maxX - minX, maxY - minY];
  if (!(w > 0 && h > 0 && w < Infinity && h < Infinity))
    throw new RangeError(`formatSvg: bounds of ${w} × ${h} mm`);
  const prefix = options.prefix === undefined ? '' : `${xmlName(options.prefix)}-`;
  const size = Math.max(w, h);
  const [letter, margin] = [size * LETTER, size * MARGIN];
  const used = [...LOOKS.keys()].filter((s) =>
    picture.groups.some((g) => g.curves.some((c) => c.style === s)),
  );
  const legend = legendLines(used, minX, minY - margin, w, letter);
  const box = {
    x: minX - margin,
    y: -maxY - margin,
    width: w + 2 * margin,
    height: h + 2 * margin + legend.height,
  };
  const hatch = size / 240;
  return `${[
    `<svg xmlns="http://www.w3.org/2000/svg" class="${prefix}picture" viewBox="${n(box.x)} ${n(box.y)} ${n(box.width)} ${n(box.height)}" role="img" aria-label="${xmlText(picture.title)}">`,
    `<title>${xmlText(picture.title)}</title>`,
    '<style>',
    styleSheet(`.${prefix}picture`, prefix, used),
    '</style>',
    '<defs>',
    hatchPattern(`${prefix}hatch`, hatch, false),
    hatchPattern(`${prefix}crosshatch`, hatch, true),
    '</defs>',
    `<rect class="paper" x="${n(box.x)}" y="${n(box.y)}" width="${n(box.width)}" height="${n(box.height)}"/>`,
    ...picture.groups.flatMap((g) => [
      `<g id="${prefix}${xmlName(g.id)}"${g.class === undefined ? '' : ` class="${g.class.split(/\s+/).map(xmlName).join(' ')}"`}>`,
      ...g.curves.map(curve),
      ...g.labels.map(label),
      '</g>',
    ]),
    `<g id="${prefix}legend">`,
    ...legend.lines,
    '</g>',
    '</svg>',
  ].join('\n')}\n`;
}

function curve(c: PictureCurve): string {
  const data = pathData(c.ring, c.open);
  return c.title === undefined
    ? `<path class="${c.style}" d="${data}"/>`
    : `<path class="${c.style}" d="${data}"><title>${xmlText(c.title)}</title></path>`;
}

function label(l: PictureLabel): string {
  const turn = l.turn ?? 0;
  const turned =
    turn === 0 ? '' : ` transform="rotate(${n((-turn * 180) / Math.PI)} ${n(l.at.x)} ${n(-l.at.y)})"`;
  const anchor = l.align === 'start' ? 'start' : 'middle';
  return `<text x="${n(l.at.x)}" y="${n(-l.at.y)}" dy="0.35em" font-size="${n(l.height)}" stroke-width="${n(l.height / 10)}" text-anchor="${anchor}"${turned}>${xmlText(l.text)}</text>`;
}

function hatchPattern(id: string, step: number, crossed: boolean): string {
  const s = n(step);
  const lines = `M0 0L0 ${s}${crossed ? `M0 0L${s} 0` : ''}`;
  return `<pattern id="${id}" patternUnits="userSpaceOnUse" width="${s}" height="${s}" patternTransform="rotate(45)"><path class="hatching" stroke-width="0.6" d="${lines}"/></pattern>`;
}

/** Swatches with words, set in lines under the picture. */
function legendLines(
  styles: readonly CurveStyle[],
  x0: number,
  top: number,
  width: number,
  letter: number,
): { lines: string[]; height: number } {
  const lines: string[] = [];
  let x = x0;
  let y = top - letter;
  for (const style of styles) {
    const words = LOOKS.get(style)!.words;
    const wide = letter * (3.4 + 0.62 * words.length + 1.2);
    if (x > x0 && x + wide > x0 + width) {
      x = x0;
      y -= 2 * letter;
    }
    const swatch =
      style === 'hole'
        ? circleRing({ x: x + 1.3 * letter, y }, 0.5 * letter)
        : rectangleRing(x, y - 0.6 * letter, x + 2.6 * letter, y + 0.6 * letter);
    lines.push(curve({ ring: swatch, style }));
    lines.push(label({ at: { x: x + 3.2 * letter, y }, text: words, height: letter, align: 'start' }));
    x += wide;
  }
  return { lines, height: styles.length === 0 ? 0 : top - y + 1.4 * letter };
}
