import type { SvgElement } from './element-tree.js';
import { inUserUnits, readLength } from './length.js';
import { readNumbers } from './numbers.js';
import type { Declarations } from './style-rules.js';

/** How an element is painted, as far as it matters to what is cut. */
export interface Paint {
  /** The colour as written, or null for none. */
  readonly stroke: string | null;
  readonly fill: string | null;
  readonly dashed: boolean;
  readonly visible: boolean;
  readonly fontSize: number;
}

/** What holds at the root (SVG 2, 13: fill black, no stroke; CSS: 16 px letters). */
export const INITIAL_PAINT: Paint = {
  stroke: null,
  fill: 'black',
  dashed: false,
  visible: true,
  fontSize: 16,
};

/** An element's own paint, and whether it and all that it holds is left out of the picture. */
export interface OwnPaint {
  readonly paint: Paint;
  readonly hidden: boolean;
  /** It is seen through a clipping path or mask. */
  readonly clipped: boolean;
}

const none = (v: string | undefined): boolean => v === undefined || v.toLowerCase() === 'none';
/** Zero of an opacity or width, whatever its unit. */
const isZero = (v: string | undefined): boolean =>
  v !== undefined && /^[+-]?0*\.?0*(?:%|[a-z]+)?$/i.test(v) && /0/.test(v);

/** The paint of an element from what it inherits: style rules and style attribute before attributes (SVG 2, 6.6). */
export function paintOf(e: SvgElement, declared: Declarations, above: Paint): OwnPaint {
  const get = (name: string): string | undefined => {
    const v = (declared.get(name) ?? e.attributes.get(name))?.trim();
    return v === undefined || v === '' || v === 'inherit' ? undefined : v;
  };
  const colour = (name: 'stroke' | 'fill'): string | null => {
    const v = get(name);
    const own = v === undefined ? above[name] : none(v) || v === 'transparent' ? null : v;
    return isZero(get(`${name}-opacity`)) ? null : own;
  };
  const dashes = get('stroke-dasharray');
  const size = get('font-size');
  const length = size === undefined ? null : readLength(size);
  const fontSize = length === null ? null : inUserUnits(length, above.fontSize, above.fontSize);
  const visibility = get('visibility');
  return {
    paint: {
      stroke: isZero(get('stroke-width')) ? null : colour('stroke'),
      fill: colour('fill'),
      dashed: dashes === undefined ? above.dashed : isDashed(dashes),
      visible: visibility === undefined ? above.visible : visibility === 'visible',
      fontSize: fontSize ?? above.fontSize,
    },
    hidden: get('display') === 'none' || isZero(get('opacity')),
    clipped: !none(get('clip-path')) || !none(get('mask')),
  };
}

/** Whether a dash list leaves gaps: `none`, a list of zeros, and one that cannot be read do not. */
function isDashed(list: string): boolean {
  const numbers = readNumbers(list.replace(/(?<=[\d.])(?:px|mm|cm|in|pt|pc|%|em)\b|(?<=\d)%/g, ''));
  return numbers !== null && numbers.length > 0 && numbers.every((n) => n >= 0) && numbers.some((n) => n > 0);
}

const NAMED: ReadonlyMap<string, number> = new Map([
  ['black', 0x000000],
  ['white', 0xffffff],
  ['red', 0xff0000],
  ['lime', 0x00ff00],
  ['green', 0x008000],
  ['blue', 0x0000ff],
  ['yellow', 0xffff00],
  ['cyan', 0x00ffff],
  ['aqua', 0x00ffff],
  ['magenta', 0xff00ff],
  ['fuchsia', 0xff00ff],
  ['gray', 0x808080],
  ['grey', 0x808080],
]);

/** A colour as 0xRRGGBB (CSS Color 3); black where it is none of the common forms. */
export function colourNumber(colour: string): number {
  const c = colour.trim().toLowerCase();
  const hex = /^#([0-9a-f]{3}|[0-9a-f]{6})$/.exec(c)?.[1];
  if (hex !== undefined)
    return Number.parseInt(hex.length === 6 ? hex : [...hex].map((h) => h + h).join(''), 16);
  const rgb = /^rgb\(\s*(\d{1,3})\s*,\s*(\d{1,3})\s*,\s*(\d{1,3})\s*\)$/.exec(c);
  if (rgb !== null) return rgb.slice(1).reduce((n, v) => n * 256 + Math.min(255, Number(v)), 0);
  return NAMED.get(c) ?? 0;
}
