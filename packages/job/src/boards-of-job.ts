import { fitThicknessMap, inheritMap, type MapOptions, type ThicknessReading } from '@haunch/gauge';
import { rectangleRing, snap } from '@haunch/geometry';
import {
  type Board,
  type Diagnostic,
  type Locus,
  type Outcome,
  settle,
  type ThicknessMap,
  thicknessAt,
} from '@haunch/model';
import type { JobBoard, JobReading } from './job-schema.js';

const readingOf = (r: JobReading): ThicknessReading =>
  typeof r === 'number' ? { thickness: r } : { thickness: r.thickness, at: { x: r.at[0], y: r.at[1] } };

/** The mean of a map over a rectangle from (0, 0). */
function meanOf(map: ThicknessMap, width: number, height: number): number {
  const at = (x: number, y: number): number => thicknessAt(map, { x, y }).thickness;
  // Simpson's rule in both directions is exact for a surface of second order.
  const weights = [1, 4, 1];
  let sum = 0;
  weights.forEach((wx, i) => {
    weights.forEach((wy, j) => {
      sum += wx * wy * at((i * width) / 2, (j * height) / 2);
    });
  });
  return sum / 36;
}

/** The map of one board of a job: of its own readings, or of the sheet that it was cut from. */
function mapOf(board: JobBoard, locus: Locus): Outcome<ThicknessMap> {
  const { nominal, standard, repeatability } = board;
  const options: MapOptions = {
    locus,
    ...(nominal === undefined ? {} : { nominal }),
    ...(standard === undefined ? {} : { standard }),
    ...(repeatability === undefined ? {} : { repeatability }),
  };
  const { offCutOf } = board;
  if (!offCutOf)
    return fitThicknessMap(
      board.readings.map(readingOf),
      rectangleRing(0, 0, board.width, board.height),
      options,
    );
  const parent = fitThicknessMap(
    offCutOf.readings.map(readingOf),
    rectangleRing(0, 0, offCutOf.width, offCutOf.height),
    options,
  );
  if (!parent.ok) return parent;
  const turn = (offCutOf.turnDegrees * Math.PI) / 180;
  const [x, y] = offCutOf.at;
  return settle(
    inheritMap(parent.value, { turnedOver: offCutOf.turnedOver, turn, x, y }),
    parent.diagnostics,
  );
}

/** The boards of a job, copies and all, each with its thickness map. What the readings are refused for is in `problems`. */
export function boardsOfJob(
  boards: readonly JobBoard[],
  file: string,
  lineOf: (path: readonly PropertyKey[]) => number,
): { readonly boards: Board[]; readonly problems: Diagnostic[] } {
  const problems: Diagnostic[] = [];
  const made = boards.flatMap((b, index) => {
    const path = [
      'boards',
      index,
      ...(b.offCutOf ? ['offCutOf', 'readings'] : b.readings.length > 0 ? ['readings'] : []),
    ];
    const map = mapOf(b, { file, line: lineOf(path), board: b.id });
    problems.push(...map.diagnostics);
    if (!map.ok) return [];
    const readings = (b.offCutOf?.readings ?? b.readings).map(readingOf);
    const thickness = snap(meanOf(map.value, b.width, b.height));
    return Array.from(
      { length: b.count },
      (_, i): Board => ({
        id: i === 0 ? b.id : `${b.id}-${i + 1}`,
        stock: b.stock ?? b.id,
        outline: rectangleRing(0, 0, snap(b.width), snap(b.height)),
        thickness,
        map: map.value,
        readings,
        grain: b.grain === 'none' ? null : b.grain,
        keepOuts: b.keepOuts.map(([x0, y0, x1, y1]) =>
          rectangleRing(Math.min(x0, x1), Math.min(y0, y1), Math.max(x0, x1), Math.max(y0, y1)),
        ),
      }),
    );
  });
  return { boards: made, problems };
}
