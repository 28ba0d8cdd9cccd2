// Writes pigeonholes.master.json: a rack of 45 parts in seven bays. Run with: node make-master.mjs
// A larger one of the same make, 63 parts in ten bays of 2100 mm, to standard output: node make-master.mjs --print 11 2100
import { writeFileSync } from 'node:fs';

const [UPRIGHTS = 8, WIDTH = 1500] = process.argv.slice(3).map(Number);
const HEIGHT = 700;
const DEPTH = 300;
const PLATE = 15;
const SHELF = 12;
const SHELVES = 5;
const TENONS_EACH = UPRIGHTS === 8 ? 'sixteen' : 2 * UPRIGHTS;
/** Two tenons at the front and the rear of every edge, from y to y. */
const TENONS = [
  [40, 110],
  [190, 260],
];

const axes = Array.from({ length: UPRIGHTS }, (_, k) => 30 + (k * (WIDTH - 60)) / (UPRIGHTS - 1)).map(Math.round);
/** Neighbouring bays have their shelves at other heights, so that no two tenons want one mortise. */
const topsOf = (bay) => Array.from({ length: SHELVES }, (_, i) => 130 + i * 110 + (bay % 2) * 45);

const marks = [
  { id: 'Z0+BASE', axis: 'Z', constant: 0, terms: { BASE: 1 } },
  { id: `Z${HEIGHT}-TOP`, axis: 'Z', constant: HEIGHT, terms: { TOP: -1 } },
];
const near = (k) => `X${axes[k]}-U${k + 1}/2`;
const far = (k) => `X${axes[k]}+U${k + 1}/2`;
for (let k = 0; k < UPRIGHTS; k++)
  marks.push(
    { id: near(k), axis: 'X', constant: axes[k], terms: { [`U${k + 1}`]: -0.5 } },
    { id: far(k), axis: 'X', constant: axes[k], terms: { [`U${k + 1}`]: 0.5 } },
  );

const seg = (to, on) => (on === undefined ? { to } : { to, on });
/** A rectangle from (x0, y0) to (x1, y1): marks of its lower, right, upper and left side. */
const rectangle = (x0, y0, x1, y1, [low, right, high, left]) => ({
  start: [x0, y0],
  segments: [seg([x1, y0], low), seg([x1, y1], right), seg([x0, y1], high), seg([x0, y0], left)],
});
const part = (id, name, thickness, more) => ({
  id,
  name,
  thickness,
  stock: `sheet-${thickness}`,
  grain: 'u',
  showFace: 'n+',
  cutFace: 'n+',
  through: [],
  pockets: [],
  holes: [],
  ...more,
});

const plate = (id, name, hold, z, on) =>
  part(id, name, PLATE, {
    frame: { origin: [0, 0, z], u: '+X', v: '+Y', n: '+Z', ...(on === undefined ? {} : { on }) },
    hold,
    outline: rectangle(0, 0, WIDTH, DEPTH, []),
    through: axes.flatMap((x, k) =>
      TENONS.map(([y0, y1], i) => ({
        id: `${id}.m${2 * k + i + 1}`,
        loop: rectangle(x - SHELF / 2, y0, x + SHELF / 2, y1, [undefined, far(k), undefined, near(k)]),
      })),
    ),
  });

const shelfId = (bay, i) => `S${bay + 1}${'abcde'[i]}`;
const shelfMark = (bay, i) => `Z${topsOf(bay)[i]}-${shelfId(bay, i)}`;

/** Steps in and out along an edge from a to b at the shoulder's height, out to the tenons' end. */
const upright = (k) => {
  const bays = [k - 1, k].filter((b) => b >= 0 && b < UPRIGHTS - 1);
  const [low, high] = [PLATE, HEIGHT - PLATE];
  const lowOn = 'Z0+BASE';
  const highOn = `Z${HEIGHT}-TOP`;
  const segments = [];
  for (const [y0, y1] of TENONS)
    segments.push(seg([y0, low], lowOn), seg([y0, 0]), seg([y1, 0]), seg([y1, low]));
  segments.push(seg([DEPTH, low], lowOn), seg([DEPTH, high]));
  for (const [y0, y1] of [...TENONS].reverse())
    segments.push(seg([y1, high], highOn), seg([y1, HEIGHT]), seg([y0, HEIGHT]), seg([y0, high]));
  segments.push(seg([0, high], highOn), seg([0, low]));
  return part(`U${k + 1}`, `Upright ${k + 1}`, SHELF, {
    frame: { origin: [axes[k] - SHELF / 2, 0, 0], u: '+Y', v: '+Z', n: '+X', on: near(k) },
    hold: 'mid',
    grain: 'v',
    outline: { start: [0, low], segments },
    through: bays.flatMap((bay) =>
      topsOf(bay).flatMap((z, i) =>
        TENONS.map(([y0, y1], t) => ({
          id: `U${k + 1}.${shelfId(bay, i)}${t + 1}`,
          loop: rectangle(y0, z - SHELF, y1, z, [shelfMark(bay, i)]),
        })),
      ),
    ),
  });
};

const shelf = (bay, i) => {
  const z = topsOf(bay)[i];
  const x0 = axes[bay] - SHELF / 2;
  // From the far face of the left upright to the far face of the right one; (0, 0) is the left tenons' lower corner.
  const inner = SHELF;
  const outer = axes[bay + 1] - SHELF / 2 - x0;
  const end = outer + SHELF;
  const segments = [];
  segments.push(seg([outer, 0]));
  for (const [y0, y1] of TENONS)
    segments.push(seg([outer, y0], near(bay + 1)), seg([end, y0]), seg([end, y1], far(bay + 1)), seg([outer, y1]));
  segments.push(seg([outer, DEPTH], near(bay + 1)), seg([inner, DEPTH]));
  for (const [y0, y1] of [...TENONS].reverse())
    segments.push(seg([inner, y1], far(bay)), seg([0, y1]), seg([0, y0], near(bay)), seg([inner, y0]));
  segments.push(seg([inner, 0], far(bay)));
  marks.push({ id: shelfMark(bay, i), axis: 'Z', constant: z, terms: { [shelfId(bay, i)]: -1 } });
  return part(shelfId(bay, i), `Shelf ${'abcde'[i]} of bay ${bay + 1}`, SHELF, {
    frame: { origin: [x0, 0, z - SHELF], u: '+X', v: '+Y', n: '+Z', on: shelfMark(bay, i) },
    hold: 'n+',
    outline: { start: [inner, 0], segments },
  });
};

const bays = Array.from({ length: UPRIGHTS - 1 }, (_, b) => b);
const shelves = bays.flatMap((b) => Array.from({ length: SHELVES }, (_, i) => shelf(b, i)));
const uprights = axes.map((_, k) => upright(k));
const parts = [plate('BASE', 'Base', 'n-', 0), plate('TOP', 'Top', 'n+', HEIGHT - PLATE, `Z${HEIGHT}-TOP`), ...uprights, ...shelves];

const mate = (id, slotPart, slotFeatures, enteringPart, enteringMoves, locates) => ({
  id,
  type: 'through mortise and tenon',
  slotPart,
  slotFeatures,
  enteringPart,
  enteringMoves,
  locates,
  stopsOn: enteringMoves,
});
const mates = [
  ...axes.flatMap((_, k) =>
    [
      ['BASE', '-Z'],
      ['TOP', '+Z'],
    ].map(([p, way]) =>
      mate(`M-${p}-U${k + 1}`, p, [1, 2].map((i) => `${p}.m${2 * k + i}`), `U${k + 1}`, way, ['+X', '-X', '+Y', '-Y']),
    ),
  ),
  ...bays.flatMap((b) =>
    Array.from({ length: SHELVES }, (_, i) => i).flatMap((i) =>
      [
        [b, '-X'],
        [b + 1, '+X'],
      ].map(([k, way]) => {
        const s = shelfId(b, i);
        const slots = [1, 2].map((t) => `U${k + 1}.${s}${t}`);
        return mate(`M-U${k + 1}-${s}`, `U${k + 1}`, slots, s, way, ['+Y', '-Y', '+Z', '-Z']);
      }),
    ),
  ),
];

const assembly = [];
const step = (fixed, moving, move, travel, text) => assembly.push({ step: assembly.length + 1, fixed, moving, move, travel, text });
let standing = ['U1'];
for (const b of bays) {
  const own = Array.from({ length: SHELVES }, (_, i) => shelfId(b, i));
  step(standing, own, '-X', 60, `Push the five shelves of bay ${b + 1} into upright ${b + 1}.`);
  standing = [...standing, ...own];
  step(standing, [`U${b + 2}`], '-X', 60, `Push upright ${b + 2} on to all five shelves of bay ${b + 1} at once.`);
  standing = [...standing, `U${b + 2}`];
}
step(['BASE'], standing, '-Z', 60, `Lower the whole grid on to the base: ${TENONS_EACH} tenons go home together; two people.`);
step(['BASE', ...standing], ['TOP'], '-Z', 60, `Knock the top down over the ${TENONS_EACH} upper tenons, a little everywhere in turn.`);

const master = {
  format: 'haunch-master',
  version: 1,
  title: `Pigeonhole rack, ${UPRIGHTS === 8 ? 'seven' : UPRIGHTS - 1} bays, ${parts.length} parts`,
  units: 'mm',
  designThickness: SHELF,
  frame: 'X left to right, Y front to rear, Z up.',
  envelope: [WIDTH, DEPTH, HEIGHT],
  holdNotes: {
    overall: `${WIDTH} x ${DEPTH} x ${HEIGHT} held`,
    uprights: 'mid-planes held, so that bays keep their pitch',
    shelves: 'upper faces held',
    tenons: 'flush with the far face of the plate they pass through, but for those in base and top, whose ends are held',
  },
  marks,
  parts,
  mates,
  assembly,
};
const text = `${JSON.stringify(master, null, 1)}\n`;
if (process.argv[2] === '--print') process.stdout.write(text);
else writeFileSync(new URL('pigeonholes.master.json', import.meta.url), text);
