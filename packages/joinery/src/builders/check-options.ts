import type { BuilderRelief } from './built-joint.js';

/** What an option of a builder must be: a figure above 0, any figure, two thicknesses, a relief or none, yes or no. */
export type OptionKind = 'positive' | 'figure' | 'thicknesses' | 'relief' | 'flag';

const FORMS: readonly BuilderRelief['form'][] = ['diagonal', 'along the wall'];

const isFigure = (v: unknown): v is number => typeof v === 'number' && Number.isFinite(v);

const shown = (v: unknown): string => {
  const text = typeof v === 'string' ? `'${v}'` : typeof v === 'object' ? JSON.stringify(v) : String(v);
  return text.length > 60 ? `${text.slice(0, 57)}...` : text;
};

/** What is wrong with a value, in words that follow its name; nothing where it is right. */
function wrongWith(kind: OptionKind, v: unknown): string | undefined {
  switch (kind) {
    case 'positive':
      return isFigure(v) && v > 0 ? undefined : `is ${shown(v)}; a figure above 0 is wanted`;
    case 'figure':
      return isFigure(v) ? undefined : `is ${shown(v)}; a figure is wanted`;
    case 'flag':
      return typeof v === 'boolean' ? undefined : `is ${shown(v)}; true or false is wanted`;
    case 'thicknesses':
      return Array.isArray(v) && v.length === 2 && v.every((t) => isFigure(t) && t > 0)
        ? undefined
        : `is ${shown(v)}; the thicknesses of both plates are wanted, such as [18, 12]`;
    case 'relief': {
      if (v === null) return undefined;
      if (typeof v !== 'object') return `is ${shown(v)}; null, or radius, surplus and form are wanted`;
      const { radius, surplus, form } = v as Partial<Record<keyof BuilderRelief, unknown>>;
      if (!isFigure(radius) || radius <= 0)
        return `has a radius of ${shown(radius)}; a figure above 0 is wanted`;
      if (!isFigure(surplus) || surplus < 0)
        return `has a surplus of ${shown(surplus)}; a figure from 0 is wanted`;
      return FORMS.some((f) => f === form)
        ? undefined
        : `has the form ${shown(form)}; ${FORMS.map((f) => `'${f}'`).join(' or ')} is wanted`;
    }
  }
}

/**
 * Checks what a builder is given, for callers whom no compiler checks.
 * @throws TypeError when it is no object, names an option that the builder does not have, or lacks one that it needs.
 * @throws RangeError when an option is not what it must be; the message names it.
 */
export function checkOptions<T extends object>(
  builder: string,
  options: T,
  needed: Readonly<Record<string, OptionKind>>,
  further: Readonly<Record<string, OptionKind>>,
): void {
  if (typeof options !== 'object' || options === null || Array.isArray(options))
    throw new TypeError(`${builder}: its options are ${shown(options)}; an object is wanted`);
  const all = { ...needed, ...further };
  const given = new Map<string, unknown>(Object.entries(options).filter(([, v]) => v !== undefined));
  for (const name of given.keys())
    if (!Object.hasOwn(all, name))
      throw new TypeError(
        `${builder}: there is no option '${name}'; it takes ${Object.keys(all).join(', ')}`,
      );
  for (const name of Object.keys(needed))
    if (!given.has(name)) throw new TypeError(`${builder}: the option ${name} is missing`);
  for (const [name, value] of given) {
    const wrong = wrongWith(all[name]!, value);
    if (wrong !== undefined) throw new RangeError(`${builder}: ${name} ${wrong}`);
  }
}
