/// <reference types="node" />
import { readFileSync } from 'node:fs';
import { moveRing, type Ring, ring, STAY, sweepAround } from '@haunch/geometry';
import type { NestingInstance } from '@haunch/model';

type Pair = readonly [number, number];
interface MasterPart {
  readonly id: string;
  readonly stock: string;
  readonly grain: 'u' | 'v';
  readonly cutFace: 'n+' | 'n-';
  readonly outline: {
    readonly start: Pair;
    readonly segments: readonly { readonly to: Pair; readonly centre?: Pair; readonly dir?: 'cw' | 'ccw' }[];
  };
}

const point = ([x, y]: Pair) => ({ x, y });

/** The outline of a master's part as it lies on the table: seen from its cut face. */
function outlineOf(part: MasterPart): Ring {
  let from = part.outline.start;
  const vertices = part.outline.segments.map(({ to, centre, dir }) => {
    const bulge = centre ? Math.tan(sweepAround(point(centre), point(from), point(to), dir!) / 4) : 0;
    const vertex = { ...point(from), bulge };
    from = to;
    return vertex;
  });
  return moveRing({ ...STAY, mirror: part.cutFace === 'n-' }, ring(vertices));
}

/** The sideboard's parts of 18 mm stock, to be laid on one sheet of 2440 × 1220 with the grain along x. */
export function sideboardInstance(): NestingInstance {
  const path = new URL('../../../docs/examples/sideboard/sideboard-18.master.json', import.meta.url);
  const { parts } = JSON.parse(readFileSync(path, 'utf8')) as { readonly parts: readonly MasterPart[] };
  return {
    items: parts
      .filter((p) => p.stock === 'sheet-1')
      .map((p) => ({
        id: p.id,
        outline: outlineOf(p),
        turns: p.grain === 'u' ? [0, Math.PI] : [Math.PI / 2, (3 * Math.PI) / 2],
        boards: ['sheet-1'],
      })),
    boards: [
      {
        id: 'sheet-1',
        outline: ring([
          { x: 0, y: 0, bulge: 0 },
          { x: 2440, y: 0, bulge: 0 },
          { x: 2440, y: 1220, bulge: 0 },
          { x: 0, y: 1220, bulge: 0 },
        ]),
        keepOuts: [],
      },
    ],
    spacing: 10,
    edgeMargin: 10,
  };
}
