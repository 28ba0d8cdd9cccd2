import { SaxesParser } from 'saxes';

/** An element of the file. Plain, but for the way up. */
export interface SvgElement {
  /** The name without its prefix; elements of other vocabularies are not kept. */
  readonly name: string;
  /** By the name as written, prefix and all. */
  readonly attributes: ReadonlyMap<string, string>;
  /** Elements and text in their order. */
  readonly children: readonly (SvgElement | string)[];
  /** Line at which the element begins, from 1. */
  readonly line: number;
  readonly parent: SvgElement | null;
}

/** Why there is no tree. */
export type XmlFault =
  | { readonly kind: 'empty' }
  | { readonly kind: 'other root'; readonly name: string; readonly line: number }
  | { readonly kind: 'malformed'; readonly line: number; readonly column: number; readonly says: string }
  | {
      readonly kind: 'truncated';
      readonly line: number;
      readonly open: { readonly name: string; readonly line: number } | null;
    }
  | { readonly kind: 'too deep'; readonly line: number };

const SVG = 'http://www.w3.org/2000/svg';
/** Elements inside each other beyond which no drawing goes. */
export const DEEPEST = 256;

/** Thrown to leave the parser at the first fault, and caught right outside it. */
class Stop extends Error {
  constructor(readonly fault: XmlFault) {
    super(fault.kind);
  }
}

interface Open {
  readonly name: string;
  readonly line: number;
  readonly element: Building | null;
  /** Namespace by prefix, where this element declares one or inherits it; '' is the default one. */
  readonly spaces: ReadonlyMap<string, string>;
}

interface Building extends SvgElement {
  readonly children: (SvgElement | string)[];
}

/** Namespaces that are declared by an entity, which is not expanded, are taken for SVG's where they are the default. */
const isSvg = (space: string | undefined): boolean =>
  space === undefined || space === '' || space === SVG || space.startsWith('&');

/**
 * The tree of an SVG document. Entities are not expanded (a reference stays as it is written), a DOCTYPE is
 * passed over, elements of other namespaces are left out with all that they hold. The first breach of XML's
 * grammar ends the reading. Never throws.
 */
export function readElementTree(text: string): { readonly root: SvgElement } | XmlFault {
  if (text.trim() === '') return { kind: 'empty' };
  const parser = new SaxesParser({ position: true });
  const open: Open[] = [];
  let root: Building | null = null;
  let tagLine = 1;

  parser.on('error', (e) => {
    if (/undefined entity/.test(e.message)) return;
    const says = e.message.replace(/^\d+:\d+: /, '').replace(/\.$/, '');
    const atEnd = /^(?:unclosed tag|unexpected end|unclosed|document must contain a root element)/.test(says);
    const inner = open[open.length - 1];
    throw new Stop(
      atEnd
        ? {
            kind: 'truncated',
            line: parser.line,
            open: inner === undefined ? null : { name: inner.name, line: inner.line },
          }
        : { kind: 'malformed', line: parser.line, column: parser.column + 1, says },
    );
  });
  parser.on('opentagstart', () => {
    tagLine = parser.line;
  });
  parser.on('opentag', (tag) => {
    const above = open[open.length - 1];
    if (open.length >= DEEPEST) throw new Stop({ kind: 'too deep', line: tagLine });
    const attributes = new Map(Object.entries(tag.attributes));
    const spaces = spacesOf(attributes, above?.spaces ?? new Map());
    const [prefix, name] = splitName(tag.name);
    const known = isSvg(spaces.get(prefix)) && (prefix === '' || spaces.has(prefix));
    let element: Building | null = null;
    if (above === undefined) {
      if (!known || name !== 'svg') throw new Stop({ kind: 'other root', name: tag.name, line: tagLine });
      element = { name, attributes, children: [], line: tagLine, parent: null };
      root = element;
    } else if (known && above.element !== null) {
      element = { name, attributes, children: [], line: tagLine, parent: above.element };
      above.element.children.push(element);
    }
    open.push({ name: tag.name, line: tagLine, element, spaces });
  });
  parser.on('closetag', () => {
    open.pop();
  });
  const words = (t: string) => {
    if (t !== '') open[open.length - 1]?.element?.children.push(t);
  };
  parser.on('text', words);
  parser.on('cdata', words);

  try {
    parser.write(text).close();
  } catch (e) {
    if (e instanceof Stop) return e.fault;
    throw e;
  }
  return root === null ? { kind: 'empty' } : { root };
}

const splitName = (name: string): readonly [string, string] => {
  const colon = name.indexOf(':');
  return colon < 0 ? ['', name] : [name.slice(0, colon), name.slice(colon + 1)];
};

function spacesOf(
  attributes: ReadonlyMap<string, string>,
  above: ReadonlyMap<string, string>,
): ReadonlyMap<string, string> {
  let own: Map<string, string> | null = null;
  for (const [name, value] of attributes) {
    const prefix = name === 'xmlns' ? '' : name.startsWith('xmlns:') ? name.slice(6) : null;
    if (prefix === null) continue;
    own ??= new Map(above);
    own.set(prefix, value);
  }
  return own ?? above;
}

/** The text of an element and of those inside it. */
export const innerText = (e: SvgElement): string =>
  e.children.map((c) => (typeof c === 'string' ? c : innerText(c))).join('');

export const elementsOf = (e: SvgElement): SvgElement[] =>
  e.children.filter((c): c is SvgElement => typeof c !== 'string');
