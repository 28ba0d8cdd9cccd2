import { curvesOfPart, type Picture } from '@haunch/drawing';
import type { Ladder } from '@haunch/gauge';
import { ringBounds } from '@haunch/geometry';

/** Height of the names and room round the comb. mm */
const LETTER = 6;
const ROOM = 8;

/** A ladder's comb by itself, large, with the name of every place that is tried or measured beside it: what lies on the bench while answers are typed. */
export function rungsPicture({ parts, names }: Ladder): Picture {
  const comb = parts[0]!;
  const { minX, minY, maxX, maxY } = ringBounds(comb.outline.ring);
  return {
    title: 'The ladder with the names of its rungs: try the plug in each, measure slot and peg',
    bounds: { minX: minX - ROOM, minY: minY - ROOM, maxX: maxX + ROOM, maxY: maxY + ROOM },
    groups: [
      {
        id: comb.id,
        class: 'part',
        curves: curvesOfPart(comb),
        labels: names.map(({ id, at }) => ({ at, text: id, height: LETTER })),
      },
    ],
  };
}
