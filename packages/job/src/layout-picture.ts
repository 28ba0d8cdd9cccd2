import {
  type CurveStyle,
  curvesOfPart,
  labelPlace,
  type Picture,
  type PictureCurve,
  type PictureLabel,
} from '@haunch/drawing';
import { circleRing, ringBounds } from '@haunch/geometry';
import type { MadeBoard } from './make.js';

/** Letter height as a share of the board's longer side. */
const LETTER = 1 / 70;

const curve = (ring: PictureCurve['ring'], style: CurveStyle, title: string): PictureCurve => ({
  ring,
  style,
  title,
});

/** A board as it lies on the bed: its edge, keep-outs, defects, every part with its cuts, and the tabs that hold them. */
export function layoutPicture(made: Pick<MadeBoard, 'board' | 'items' | 'plan'>): Picture {
  const box = ringBounds(made.board.outline);
  const letter = Math.max(box.maxX - box.minX, box.maxY - box.minY) * LETTER;
  const label = (text: string, at: PictureLabel['at']): PictureLabel => ({ at, text, height: letter });
  return {
    title: `${made.board.id}: ${box.maxX} × ${box.maxY} mm, ${made.board.thickness} mm thick`,
    bounds: box,
    groups: [
      {
        id: made.board.id,
        class: 'board',
        curves: [
          curve(made.board.outline, 'board', made.board.id),
          ...made.board.keepOuts.map((k) => curve(k, 'keep-out', 'keep-out')),
        ],
        labels: [],
      },
      ...made.items.map(({ item, part }) => ({
        id: item,
        class: 'part',
        curves: curvesOfPart(part),
        labels: [label(item, labelPlace(part).at)],
      })),
      {
        id: 'tabs',
        class: 'tabs',
        curves: made.plan.workplan.steps.flatMap((s) =>
          s.tabs.map((t) =>
            curve(circleRing(t.at, t.width / 2), 'tab', `tab on ${t.edge}, ${t.width} × ${t.height} mm`),
          ),
        ),
        labels: [],
      },
      ...(made.board.defects
        ? [
            {
              id: 'defects',
              class: 'defects',
              curves: made.board.defects.map((d) =>
                curve(d.outline, 'defect', `defect of the ${d.face === 'up' ? 'upper' : 'lower'} face`),
              ),
              labels: [],
            },
          ]
        : []),
    ],
  };
}
