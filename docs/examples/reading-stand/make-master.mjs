// Writes reading-stand.master.json: seven plates, two of which lean, joined by fingers and by tenons. Run with: node make-master.mjs
import { writeFileSync } from 'node:fs';

const PLATE = 18;
const WIDTH = 420;
const DEPTH = 270;
/** Height of the base's lower face above the table, which is held. */
const BASE = 52;
const PITCH = 60;

/** The base's upper face. */
const TOP = 'Z52+BASE';
const marks = [
  { id: TOP, axis: 'Z', constant: BASE, terms: { BASE: 1 } },
  { id: 'Y0+FRONT', axis: 'Y', constant: 0, terms: { FRONT: 1 } },
  { id: `Y${DEPTH}-REAR`, axis: 'Y', constant: DEPTH, terms: { REAR: -1 } },
];

/** On the grid of 0.0001 mm. */
const grid = (v) => Math.round(v * 1e4) / 1e4 + 0;
const point = ([x, y]) => [grid(x), grid(y)];
const seg = (to, on) => (on === undefined ? { to: point(to) } : { to: point(to), on });
/** A rectangle from (x0, y0) to (x1, y1): marks of its lower, right, upper and left side. */
const rectangle = (x0, y0, x1, y1, [low, right, high, left]) => ({
  start: point([x0, y0]),
  segments: [seg([x1, y0], low), seg([x1, y1], right), seg([x0, y1], high), seg([x0, y0], left)],
});
const part = (id, name, more) => ({
  id,
  name,
  thickness: PLATE,
  stock: 'sheet-18',
  grain: 'u',
  showFace: 'n+',
  cutFace: 'n+',
  through: [],
  pockets: [],
  holes: [],
  ...more,
});

/** From `x0` to `x1` in stretches of one pitch at two heights, the first and the last at `here`. */
const fingers = (x0, x1, here, hereOn, there, thereOn) => {
  const way = Math.sign(x1 - x0);
  const count = Math.abs(x1 - x0) / PITCH;
  return Array.from({ length: count }, (_, i) => {
    const [from, to] = [x0 + way * i * PITCH, x0 + way * (i + 1) * PITCH];
    return i % 2 === 0 ? [seg([to, here], hereOn)] : [seg([from, there]), seg([to, there], thereOn), seg([to, here])];
  }).flat();
};
/** From `x0` to `x1` along a shoulder, out to the ends of tenons that stand from x to x. */
const tenons = (x0, x1, list, shoulder, shoulderOn, end, endOn) => {
  const along = x1 > x0 ? list : list.map(([a, b]) => [b, a]).reverse();
  const steps = along.flatMap(([a, b]) => [seg([a, shoulder], shoulderOn), seg([a, end]), seg([b, end], endOn), seg([b, shoulder])]);
  return [...steps, seg([x1, shoulder], shoulderOn)];
};

/**
 * A plate that leans back through the base at the angle whose cosine and sine are given: its face n+ looks to the front
 * and up, and meets the base's lower face at y = `foot`. u is X, v goes up along the plate.
 */
const lean = ({ id, foot, cosine, sine }) => {
  const normal = [0, -sine, cosine];
  const up = [0, cosine, sine];
  /** Face n+ on the normal, which is held, and face n−. */
  const face = grid(-sine * foot + cosine * BASE);
  const rear = face - PLATE;
  const own = { id: `${id}-rear`, normal, constant: face, terms: { [id]: -1 } };
  const far = { id: `${id}-slot`, normal, constant: face, terms: { [id]: -1, BASE: -cosine } };
  // The front wall touches with its lower arris: there the tenon's upper arris must still be, its lower one stands proud.
  const end = { id: `${id}-end`, axis: 'Z', constant: BASE, terms: { [id]: -cosine } };
  marks.push(own, far, end);
  return {
    normal,
    up,
    face,
    rear,
    mark: own.id,
    end: end.id,
    cosine,
    /** Where the plate's lower arris, at face n−, is at a height. */
    at: (z) => (z - cosine * rear) / sine,
    frame: { origin: [0, grid(-sine * rear), grid(cosine * rear)], u: '+X', v: up, n: normal, on: own.id },
    /** The front wall is held at its lower arris; the rear one touches face n− with its upper arris. */
    slot: (slotId, [x0, x1]) => ({
      id: slotId,
      loop: rectangle(x0, foot, x1, foot + (PLATE + cosine * PLATE) / sine, [undefined, undefined, far.id, undefined]),
    }),
  };
};
const opposite = (v) => v.map((c) => -c + 0);

// 24 up on 7 back, and 4 up on 3 back: 73.74° and 53.13°, set out with whole numbers.
const back = lean({ id: 'BACK', foot: 185, cosine: 0.28, sine: 0.96 });
const card = lean({ id: 'CARD', foot: 40, cosine: 0.6, sine: 0.8 });
/** One broad and one narrow: the back, and the ledge in it, go together one way round only. */
const FEET = { BACK: [[100, 160], [270, 320]], CARD: [[130, 180], [240, 290]] };

const leaning = (id, name, of, [x0, x1], height, more = {}) => {
  const [shoulder, end] = [of.at(BASE + PLATE), of.at(BASE - of.cosine * PLATE)];
  const top = Math.round(shoulder) + height;
  return part(id, name, {
    frame: of.frame,
    hold: 'n+',
    outline: {
      start: point([x0, shoulder]),
      segments: [...tenons(x0, x1, FEET[id], shoulder, TOP, end, of.end), seg([x1, top]), seg([x0, top]), seg([x0, shoulder])],
    },
    ...more,
  });
};

/** The ledge stands square to the back, `SHELF` up along it to its upper face, and reaches `REACH` to the front. */
const SHELF = 175;
const REACH = 70;
const X = [60, 360];
const LEDGE_TENONS = [[110, 170], [260, 310]];
const front = grid(back.face + REACH);
marks.push(
  { id: 'LEDGE-under', normal: back.up, constant: SHELF, terms: { LEDGE: -1 } },
  { id: 'LIP-inside', normal: back.normal, constant: front, terms: { LIP: -1 } },
);
const along = (v, by) => v.map((c) => grid(c * by));

const parts = [
  part('BASE', 'Base', {
    frame: { origin: [0, 0, BASE], u: '+X', v: '+Y', n: '+Z' },
    hold: 'n-',
    outline: {
      start: [0, 0],
      segments: [
        ...fingers(0, WIDTH, 0, undefined, PLATE, 'Y0+FRONT'),
        seg([WIDTH, DEPTH]),
        ...fingers(WIDTH, 0, DEPTH, undefined, DEPTH - PLATE, `Y${DEPTH}-REAR`),
        seg([0, 0]),
      ],
    },
    through: [
      ...FEET.BACK.map((x, i) => back.slot(`BASE.b${i + 1}`, x)),
      ...FEET.CARD.map((x, i) => card.slot(`BASE.c${i + 1}`, x)),
    ],
  }),
  ...[
    ['FRONT', 'Front rail', { origin: [0, PLATE, 0], u: '+X', v: '+Z', n: '-Y', on: 'Y0+FRONT' }],
    ['REAR', 'Rear rail', { origin: [WIDTH, DEPTH - PLATE, 0], u: '-X', v: '+Z', n: '+Y', on: `Y${DEPTH}-REAR` }],
  ].map(([id, name, frame]) =>
    part(id, name, {
      frame,
      hold: 'n+',
      outline: {
        start: [0, 0],
        segments: [seg([WIDTH, 0]), seg([WIDTH, BASE]), ...fingers(WIDTH, 0, BASE, undefined, BASE + PLATE, TOP), seg([0, 0])],
      },
    }),
  ),
  leaning('BACK', 'Back', back, X, 240, {
    through: LEDGE_TENONS.map(([x0, x1], i) => ({
      id: `BACK.m${i + 1}`,
      loop: rectangle(x0, SHELF - PLATE, x1, SHELF, ['LEDGE-under']),
    })),
  }),
  leaning('CARD', 'Card rest', card, [90, 330], 55),
  part('LEDGE', 'Ledge', {
    frame: { origin: along(back.up, SHELF - PLATE), u: '+X', v: opposite(back.normal), n: back.up, on: 'LEDGE-under' },
    hold: 'n+',
    outline: {
      start: point([X[0], -front]),
      segments: [
        ...fingers(...X, -front, undefined, PLATE - front, 'LIP-inside'),
        seg([X[1], -back.face]),
        ...tenons(X[1], X[0], LEDGE_TENONS, -back.face, undefined, -back.rear, back.mark),
        seg([X[0], -front]),
      ],
    },
  }),
  part('LIP', 'Lip', {
    frame: { origin: along(back.normal, front - PLATE), u: '+X', v: back.up, n: back.normal, on: 'LIP-inside' },
    hold: 'n+',
    outline: {
      start: [X[0], SHELF],
      segments: [
        ...fingers(...X, SHELF, undefined, SHELF - PLATE, 'LEDGE-under'),
        seg([X[1], SHELF + 35]),
        seg([X[0], SHELF + 35]),
        seg([X[0], SHELF]),
      ],
    },
  }),
];

const mate = (slotPart, enteringPart, type, slotFeatures, enteringMoves, locates) => ({
  id: `M-${slotPart}-${enteringPart}`,
  type,
  slotPart,
  slotFeatures,
  enteringPart,
  enteringMoves,
  locates: ['+X', '-X', ...locates],
  stopsOn: enteringMoves,
});
const ANGLED = 'through mortise and tenon at an angle';
const mates = [
  mate('BASE', 'FRONT', 'finger run', ['BASE.outline'], '+Z', ['+Y']),
  mate('BASE', 'REAR', 'finger run', ['BASE.outline'], '+Z', ['-Y']),
  mate('BASE', 'BACK', ANGLED, ['BASE.b1', 'BASE.b2'], opposite(back.up), [back.normal, opposite(back.normal)]),
  mate('BASE', 'CARD', ANGLED, ['BASE.c1', 'BASE.c2'], opposite(card.up), [card.normal, opposite(card.normal)]),
  mate('BACK', 'LEDGE', 'through mortise and tenon', ['BACK.m1', 'BACK.m2'], opposite(back.normal), [back.up, opposite(back.up)]),
  mate('LEDGE', 'LIP', 'finger run', ['LEDGE.outline'], opposite(back.up), [opposite(back.normal)]),
];

const step = (n, fixed, moving, move, text) => ({ step: n, fixed, moving, move, travel: 60, text });
const assembly = [
  step(1, ['LEDGE'], ['LIP'], opposite(back.up), 'Push the lip down into the fingers of the ledge.'),
  step(2, ['BACK'], ['LEDGE', 'LIP'], opposite(back.normal), 'Push the ledge with its lip through the back, square to it.'),
  step(3, ['BASE'], ['FRONT'], '+Z', 'Push the front rail up into the fingers of the base.'),
  step(4, ['BASE', 'FRONT'], ['REAR'], '+Z', 'Push the rear rail up into the fingers of the base.'),
  step(5, ['BASE', 'FRONT', 'REAR'], ['CARD'], opposite(card.up), 'Slide the card rest down through the base along its own slope.'),
  step(6, ['BASE', 'FRONT', 'REAR', 'CARD'], ['BACK', 'LEDGE', 'LIP'], opposite(back.up), 'Slide the back down through the base along its own slope until its shoulders bear; the lip passes the card rest.'),
];

const master = {
  format: 'haunch-master',
  version: 1,
  title: 'Reading stand with a back and a card rest that lean',
  units: 'mm',
  designThickness: PLATE,
  frame: 'X left to right, Y front to rear, Z up.',
  envelope: [WIDTH, DEPTH, 310],
  holdNotes: {
    base: 'lower face held 52 above the table, 420 x 270 over all held',
    leaning: 'reading faces held where they meet the plane of the base\'s lower face',
    slots: 'as wide as t2/sin + t1/tan: the front wall stays, the rear one follows the leaning plate and the base',
    tenons: 'their upper arris flush with the base\'s lower face, the lower one proud; shoulders bear on the base with their lower arris',
    fingers: 'flush with the face of the plate they pass',
  },
  marks,
  parts,
  mates,
  assembly,
};
const text = `${JSON.stringify(master, null, 1)}\n`;
if (process.argv[2] === '--print') process.stdout.write(text);
else writeFileSync(new URL('reading-stand.master.json', import.meta.url), text);
