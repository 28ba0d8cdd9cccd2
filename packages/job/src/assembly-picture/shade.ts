import { dot, type Vec } from './vec.js';

type Colour = readonly [number, number, number];

/** Warm paper tones by where a side faces: light from above, the front clear, the ends in shade. */
const UPPER: Colour = [0xf4, 0xe6, 0xcb];
const UNDER: Colour = [0xa8, 0x8a, 0x62];
const FRONT: Colour = [0xe6, 0xcd, 0xa4];
const END: Colour = [0xcf, 0xae, 0x80];

/** The colours round the piece. */
export const CARD = '#faf6ee';
export const CARD_BORDER = '#ded3c0';
export const SHADOW = '#ece3d3';
export const INK = '#4a3f33';
export const SOFT_INK = '#6e6251';

/** Curved walls get one of so many mixtures of two tones. */
const MIXTURES = 12;

const hex = (c: readonly number[]): string =>
  `#${c.map((x) => Math.round(x).toString(16).padStart(2, '0')).join('')}`;

/** The tone of a side by its normal: three tones on three directions, mixtures between. */
export function shade(normal: Vec): string {
  const parts: (readonly [number, Colour])[] = [
    [dot(normal, [1, 0, 0]) ** 2, END],
    [dot(normal, [0, 1, 0]) ** 2, FRONT],
    [dot(normal, [0, 0, 1]) ** 2, normal[2] < 0 ? UNDER : UPPER],
  ];
  const mixed = [0, 1, 2].map((k) =>
    parts.reduce((sum, [w, c]) => sum + (Math.round(w * MIXTURES) / MIXTURES) * c[k]!, 0),
  );
  return hex(mixed.map((x) => Math.min(255, x)));
}
