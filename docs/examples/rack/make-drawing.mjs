// Draws the rack of docs/from-a-drawing.md as somebody else might have: four flat parts for 12 mm sheet, 0.2 mm
// clearance in the slots, round reliefs in their corners, no thickness stated. Run from the repository's root after a
// build: node docs/examples/rack/make-drawing.mjs
import { writeFileSync } from 'node:fs';
import { formatDxf, sheetOfParts } from '@haunch/drawing';

const [T, CLEARANCE, LENGTH, RELIEF] = [12, 0.2, 600, 1.5];
const corner = (x, y, bulge = 0) => ({ x, y, bulge });

/** A slot with a round relief on the bisector of each corner: a circle through the corner leaves the wall at r√2. */
const slot = (y0, y1, z) => {
  const c = CLEARANCE / 2;
  const [minX, maxX, minY, maxY] = [y0 - c, y1 + c, z - c, z + T + c];
  const d = RELIEF * Math.SQRT2;
  return [
    corner(minX + d, minY),
    corner(maxX - d, minY, 1),
    corner(maxX, minY + d),
    corner(maxX, maxY - d, 1),
    corner(maxX - d, maxY),
    corner(minX + d, maxY, 1),
    corner(minX, maxY - d),
    corner(minX, minY + d, 1),
  ];
};

const polygon = (points) => points.map(([x, y]) => corner(x, y));
const rectangle = (x0, y0, x1, y1) => polygon([[x0, y0], [x1, y0], [x1, y1], [x0, y1]]);

const contour = (id, vertices) => ({ id, ring: { vertices }, bare: { vertices }, reliefs: [] });
const part = (id, name, outline, through) => ({
  kind: 'part',
  id,
  name,
  thickness: null,
  grain: null,
  cutFace: 'n+',
  showFace: null,
  stock: null,
  outline: contour(id, outline),
  through: through.map((r, k) => contour(`${id}.c${k + 1}`, r)),
  pockets: [],
  holes: [],
  from: [],
});

/** A board with two tenons at its left end and two at its right. */
const board = ([a, b], [d, e]) =>
  polygon([
    [0, 0],
    [LENGTH, 0],
    ...[d, e].flatMap(([y0, y1]) => [[LENGTH, y0], [LENGTH + T, y0], [LENGTH + T, y1], [LENGTH, y1]]),
    [LENGTH, 200],
    [0, 200],
    ...[b, a].flatMap(([y0, y1]) => [[0, y1], [-T, y1], [-T, y0], [0, y0]]),
  ]);

const parts = [
  part('L', 'Upright, left', rectangle(0, 0, 200, 420), [
    slot(30, 80, 100),
    slot(120, 150, 100),
    slot(20, 60, 300),
    slot(110, 170, 300),
  ]),
  part('R', 'Upright, right', rectangle(0, 0, 200, 450), [
    slot(25, 85, 100),
    slot(110, 135, 100),
    slot(40, 75, 300),
    slot(120, 165, 300),
  ]),
  part('LOW', 'Lower board', board([[30, 80], [120, 150]], [[25, 85], [110, 135]]), [rectangle(100, 85, 140, 105)]),
  part('HIGH', 'Upper board', board([[20, 60], [110, 170]], [[40, 75], [120, 165]]), []),
];

writeFileSync(new URL('rack.dxf', import.meta.url), formatDxf(sheetOfParts(parts, { title: 'rack', arrange: 'rows' })));
