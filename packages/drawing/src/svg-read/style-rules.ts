import type { SvgElement } from './element-tree.js';

/** What a style sheet or attribute sets, by property name in lower case. */
export type Declarations = ReadonlyMap<string, string>;

/** One compound of a selector: all that is named must hold. */
interface Compound {
  readonly type: string | null;
  readonly id: string | null;
  readonly classes: readonly string[];
}

/** A rule with the compounds of its selector, the innermost first, each an ancestor of the one before it. */
interface Rule {
  readonly compounds: readonly Compound[];
  readonly weight: number;
  readonly declarations: readonly {
    readonly name: string;
    readonly value: string;
    readonly important: boolean;
  }[];
}

/** The rules of a file's `<style>` elements. */
export interface StyleSheet {
  readonly rules: readonly Rule[];
  /** Selectors of other forms (attributes, states, neighbours), whose rules are not followed. */
  readonly unread: number;
}

/** More rules than this are not kept: no drawing has them. */
const MOST_RULES = 4000;

const withoutComments = (css: string): string => {
  const out: string[] = [];
  for (let at = 0; ; ) {
    const from = css.indexOf('/*', at);
    out.push(css.slice(at, from < 0 ? undefined : from));
    const to = from < 0 ? -1 : css.indexOf('*/', from + 2);
    if (to < 0) return out.join(' ').replace(/<!--|-->/g, ' ');
    at = to + 2;
  }
};

/** Reads `name: value; …`; a value keeps its case. */
export function readDeclarations(text: string): Rule['declarations'] {
  return text.split(';').flatMap((d) => {
    const colon = d.indexOf(':');
    const name = d.slice(0, Math.max(colon, 0)).trim().toLowerCase();
    if (name === '') return [];
    const value = d.slice(colon + 1).trim();
    const important = /!\s*important$/i.test(value);
    return [{ name, value: important ? value.replace(/!\s*important$/i, '').trim() : value, important }];
  });
}

const COMPOUND = /^(\*|[A-Za-z][\w-]*)?((?:[.#][\w\u0080-\uffff-]+)*)$/;

function readCompound(word: string): Compound | null {
  const m = COMPOUND.exec(word);
  if (m === null || word === '') return null;
  const names = m[2]!.match(/[.#][^.#]+/g) ?? [];
  const ids = names.filter((n) => n.startsWith('#')).map((n) => n.slice(1));
  if (ids.length > 1) return null;
  return {
    type: m[1] === undefined || m[1] === '*' ? null : m[1],
    id: ids[0] ?? null,
    classes: names.filter((n) => n.startsWith('.')).map((n) => n.slice(1)),
  };
}

const weightOf = (compounds: readonly Compound[]): number =>
  compounds.reduce(
    (sum, c) => sum + (c.id === null ? 0 : 1_000_000) + c.classes.length * 1000 + (c.type === null ? 0 : 1),
    0,
  );

/**
 * Reads style sheets (CSS 2.1) as far as drawings need them: rules with selectors of type, class and id, one
 * inside another. Rules for other media (`@media`, `@supports` …) are passed over. Linear; never throws.
 */
export function readStyleSheets(texts: readonly string[]): StyleSheet {
  const rules: Rule[] = [];
  let unread = 0;
  for (const css of texts.map(withoutComments)) {
    for (let at = 0; at < css.length; ) {
      const brace = css.indexOf('{', at);
      if (brace < 0) break;
      // Statements such as @import and @charset end in a semicolon before the next block.
      const prelude = css.slice(at, brace).split(';').at(-1)!.trim();
      const end = blockEnd(css, brace);
      if (!prelude.startsWith('@')) {
        const declarations = readDeclarations(css.slice(brace + 1, end - 1));
        for (const selector of prelude.split(',')) {
          const compounds = selector.trim().split(/\s+/).reverse().map(readCompound);
          if (rules.length >= MOST_RULES || compounds.some((c) => c === null)) unread++;
          else
            rules.push({
              compounds: compounds as Compound[],
              weight: weightOf(compounds as Compound[]),
              declarations,
            });
        }
      }
      at = end;
    }
  }
  return { rules, unread };
}

/** The place after the brace that closes the block which begins at `brace`. */
function blockEnd(css: string, brace: number): number {
  let depth = 0;
  for (let i = brace; i < css.length; i++) {
    if (css[i] === '{') depth++;
    else if (css[i] === '}' && --depth === 0) return i + 1;
  }
  return css.length + 1;
}

type Ranked = { readonly rule: Rule; readonly order: number };

/** Answers what the rules and the element's own style attribute set, the weightier last (CSS 2.1, 6.4). */
export class StyleFinder {
  /** Rules by the class, id or type that their innermost compound asks for first. */
  readonly #byKey = new Map<string, Ranked[]>();
  readonly #classes = new Map<SvgElement, ReadonlySet<string>>();
  readonly #budget: number;
  #tried = 0;

  /** @param budget how many compounds may be held against elements before no rule is followed any more */
  constructor(sheet: StyleSheet, budget: number) {
    this.#budget = budget;
    sheet.rules.forEach((rule, order) => {
      const c = rule.compounds[0]!;
      const key = c.id !== null ? `#${c.id}` : c.classes.length > 0 ? `.${c.classes[0]}` : (c.type ?? '*');
      const list = this.#byKey.get(key);
      if (list === undefined) this.#byKey.set(key, [{ rule, order }]);
      else list.push({ rule, order });
    });
  }

  /** Whether the rules have cost more than they may; what is answered then is not to be used. */
  get exhausted(): boolean {
    return this.#tried > this.#budget;
  }

  declarationsOf(e: SvgElement): Declarations {
    const out = new Map<string, string>();
    const style = e.attributes.get('style');
    const inline = style === undefined ? [] : readDeclarations(style);
    const found: Ranked[] = [];
    if (this.#byKey.size > 0) {
      const id = e.attributes.get('id');
      const keys = [...this.#classesOf(e)].map((c) => `.${c}`);
      for (const key of [...keys, ...(id === undefined ? [] : [`#${id}`]), e.name, '*'])
        for (const r of this.#byKey.get(key) ?? []) if (this.#picks(r.rule, e)) found.push(r);
      found.sort((a, b) => a.rule.weight - b.rule.weight || a.order - b.order);
    }
    const all = [...found.map((f) => f.rule.declarations), inline];
    for (const d of all) for (const { name, value, important } of d) if (!important) out.set(name, value);
    for (const d of all) for (const { name, value, important } of d) if (important) out.set(name, value);
    return out;
  }

  #classesOf(e: SvgElement): ReadonlySet<string> {
    let classes = this.#classes.get(e);
    if (classes === undefined) {
      classes = new Set((e.attributes.get('class') ?? '').split(/\s+/));
      this.#classes.set(e, classes);
    }
    return classes;
  }

  #holds(c: Compound, e: SvgElement): boolean {
    this.#tried++;
    if ((c.type !== null && c.type !== e.name) || (c.id !== null && c.id !== e.attributes.get('id')))
      return false;
    if (c.classes.length === 0) return true;
    const own = this.#classesOf(e);
    return c.classes.every((n) => own.has(n));
  }

  /** Whether a rule's selector picks an element. Each ancestor's compound is met by the nearest that it can be. */
  #picks(rule: Rule, element: SvgElement): boolean {
    if (this.exhausted || !this.#holds(rule.compounds[0]!, element)) return false;
    let above = element.parent;
    for (let i = 1; i < rule.compounds.length; i++) {
      while (above !== null && !this.#holds(rule.compounds[i]!, above)) above = above.parent;
      if (above === null) return false;
      above = above.parent;
    }
    return true;
  }
}
