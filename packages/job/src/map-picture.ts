import { type Point, pointInRing, ringBounds } from '@haunch/geometry';
import { type Board, thicknessAt } from '@haunch/model';
import { offCutPicture } from './off-cut-picture.js';
import { readingsToTake } from './readings-to-take.js';

const COLUMNS = 8;
/** Half of the room that a field's figures take, in hundredths of the picture's width. */
const FIGURES = { w: 2.8, h: 2.1 };
/** Below the picture, a line each: none may be longer than the picture is wide. */
const CAPTION = [
  'cross: measured there · ring with a number: the three readings that would help most',
  'darker: thicker · places count from the lower left corner, X to the right, Y up',
];
const escaped = (text: string): string =>
  text.replace(/[&<>"]/g, (c) => ({ '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' })[c]!);
const two = (v: number): string => v.toFixed(2);

/**
 * A board's thickness map as a picture: in every field the thickness in figures, the thicker the darker, with its uncertainty
 * below; crosses where it was measured, numbered rings where further readings would help most. An off-cut is also shown in its
 * sheet. `where` are the places that matter, where tenons lie; the whole board when left out. Deterministic. SVG.
 */
export function mapPicture(board: Board, options: { readonly where?: readonly Point[] } = {}): string {
  const { minX, minY, maxX, maxY } = ringBounds(board.outline);
  const [w, h] = [maxX - minX, maxY - minY];
  const rows = Math.max(1, Math.round((COLUMNS * h) / w));
  const unit = w / 100;
  const y = (v: number): number => +(maxY - v).toFixed(2);
  const { map } = board;
  const fields = Array.from({ length: rows * COLUMNS }, (_, k) => {
    const at = {
      x: minX + (((k % COLUMNS) + 0.5) * w) / COLUMNS,
      y: minY + ((Math.floor(k / COLUMNS) + 0.5) * h) / rows,
    };
    return { at, t: map ? thicknessAt(map, at) : { thickness: board.thickness, u: 0, surfaceU: 0 } };
  }).filter(({ at }) => pointInRing(board.outline, at) === 'inside');
  const values = fields.map((f) => f.t.thickness);
  const [least, most] = [Math.min(...values), Math.max(...values)];
  // A twentieth from end to end at least, so that an even sheet does not look uneven.
  const span = Math.max(0.1, most - least);
  const read = board.readings.flatMap((r) =>
    r.at && pointInRing(board.outline, r.at) !== 'outside' ? [{ at: r.at, thickness: r.thickness }] : [],
  );
  const wanted = map ? readingsToTake(board, options.where).map(({ at }) => at) : [];
  const cross = unit * 0.9;
  const ring = unit * 1.5;
  // Where a ring or a cross lies on a field's figures they are left out: those beside it say nearly the same.
  const marks = [...read.map(({ at }) => ({ at, r: cross })), ...wanted.map((at) => ({ at, r: ring }))];
  const covered = (p: Point): boolean =>
    marks.some(
      ({ at, r }) =>
        Math.abs(at.x - p.x) < FIGURES.w * unit + r && Math.abs(at.y - p.y) < FIGURES.h * unit + r,
    );
  const cells = fields.map(({ at, t }) => {
    const shade = (0.08 + 0.5 * ((t.thickness - least) / span)).toFixed(3);
    return `<rect x="${+(at.x - w / COLUMNS / 2).toFixed(2)}" y="${+(y(at.y) - h / rows / 2).toFixed(2)}" width="${+(w / COLUMNS).toFixed(2)}" height="${+(h / rows).toFixed(2)}" fill="#7a5a2e" fill-opacity="${shade}" stroke="#fffdf8" stroke-width="${unit * 0.15}"/>${covered(at) ? '' : `<text x="${+at.x.toFixed(2)}" y="${+(y(at.y) - unit * 0.3).toFixed(2)}">${two(t.thickness)}</text><text x="${+at.x.toFixed(2)}" y="${+(y(at.y) + unit * 1.9).toFixed(2)}" class="tm-u">± ${two(2 * t.u)}</text>`}`;
  });
  const readings = read.map(
    ({ at, thickness }) =>
      `<path d="M${+(at.x - cross).toFixed(2)} ${y(at.y)}h${+(2 * cross).toFixed(2)}M${+at.x.toFixed(2)} ${+(y(at.y) - cross).toFixed(2)}v${+(2 * cross).toFixed(2)}" class="tm-read"><title>measured ${escaped(two(thickness))} mm</title></path>`,
  );
  const next = wanted.map(
    (at, i) =>
      `<circle cx="${at.x}" cy="${y(at.y)}" r="${+ring.toFixed(2)}" class="tm-next"/><text x="${at.x}" y="${+(y(at.y) + unit * 0.7).toFixed(2)}" class="tm-n">${i + 1}</text>`,
  );
  const surface = map
    ? { level: 'one thickness', plane: 'a slope', curved: 'a curved surface' }[map.surface]
    : 'one thickness';
  const title = `${board.id}: thickness in mm, ± two standard uncertainties; the readings speak for ${surface}`;
  const foot = unit * 6;
  // An off-cut's sheet, below its own map: half as wide as the map at the most, and no higher than the map is wide.
  const sheet = map ? { w: 2 * map.reach.x, h: 2 * map.reach.y } : { w: 1, h: 1 };
  const inSheet = offCutPicture(board, Math.min((0.5 * w) / sheet.w, (0.4 * w) / sheet.h), unit);
  const below = inSheet ? inSheet.height + unit * 5 : 0;
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="${+(minX - unit).toFixed(2)} ${+(-unit).toFixed(2)} ${+(w + 2 * unit).toFixed(2)} ${+(h + 2 * unit + foot + below).toFixed(2)}" role="img" aria-label="${escaped(title)}" font-family="sans-serif" font-size="${+(unit * 2).toFixed(2)}" text-anchor="middle" fill="#23211c"><title>${escaped(title)}</title><style>.tm-u{font-size:${+(unit * 1.8).toFixed(2)}px;fill:#5d574b}.tm-read{stroke:#23211c;stroke-width:${+(unit * 0.3).toFixed(2)};fill:none}.tm-next{fill:#fffdf8;stroke:#a3341f;stroke-width:${+(unit * 0.3).toFixed(2)};stroke-dasharray:${unit} ${+(unit * 0.5).toFixed(2)}}.tm-n{font-size:${+(unit * 1.8).toFixed(2)}px;font-weight:bold}</style>
${cells.join('\n')}
<rect x="${minX}" y="0" width="${w}" height="${h}" fill="none" stroke="#23211c" stroke-width="${+(unit * 0.25).toFixed(2)}"/>
${[...readings, ...next].join('\n')}
${CAPTION.map((text, i) => `<text x="${minX}" y="${+(h + unit * (2.6 + 2.4 * i)).toFixed(2)}" text-anchor="start" class="tm-u">${text}</text>`).join('\n')}
${inSheet ? `<g transform="translate(${minX} ${+(h + foot).toFixed(2)})">${inSheet.svg}</g>\n` : ''}</svg>
`;
}
