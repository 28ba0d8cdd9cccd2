import type { SvgElement } from './element-tree.js';
import { type Length, readLength } from './length.js';

/** The one child of a `switch` that is drawn: the first whose conditions hold (SVG 2, 5.9). */
export function chosen(children: readonly SvgElement[]): readonly SvgElement[] {
  const pick = children.find((c) => {
    const extensions = c.attributes.get('requiredExtensions');
    const languages = c.attributes.get('systemLanguage');
    return (
      (extensions === undefined || extensions.trim() === '') &&
      (languages === undefined || /(?:^|,)\s*en\b/i.test(languages))
    );
  });
  return pick === undefined ? [] : [pick];
}

/** The words of a text element: its lines, which are `tspan`s, parted by blanks. */
export function lettering(e: SvgElement): string {
  const words = (n: SvgElement | string): string => {
    if (typeof n === 'string') return n;
    if (!['tspan', 'textPath', 'a', 'tref', 'text'].includes(n.name)) return '';
    const inside = n.children.map(words).join('');
    return n.attributes.has('x') || n.attributes.has('y') || n.attributes.has('dy') ? ` ${inside}` : inside;
  };
  return words(e).replace(/\s+/g, ' ').trim();
}

/** What an element refers to, by whichever of the attributes it uses. */
export const hrefOf = (e: SvgElement): string | undefined =>
  (
    e.attributes.get('href') ??
    e.attributes.get('xlink:href') ??
    [...e.attributes].find(([n]) => n.endsWith(':href'))?.[1]
  )?.trim();

/** The id that a reference names, its escapes resolved. */
export function idOfFragment(id: string): string {
  try {
    return decodeURIComponent(id);
  } catch {
    return id;
  }
}

/** Whether one element is another or lies inside it. */
export function contains(outer: SvgElement, inner: SvgElement): boolean {
  for (let e: SvgElement | null = inner; e !== null; e = e.parent) if (e === outer) return true;
  return false;
}

/** A number with a unit, as the root states its size; null for per cent, auto and what cannot be read. */
export function rootLength(root: SvgElement, name: 'width' | 'height'): Length | null {
  const length = readLength(root.attributes.get(name) ?? '');
  return length === null || !(length.value > 0) || ['%', 'em', 'ex'].includes(length.unit) ? null : length;
}
