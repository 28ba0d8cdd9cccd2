import type { Face } from '@haunch/model';
import type { Drawing } from '../drawing.js';
import { layerRole } from './part-layers.js';

/**
 * What a person says of a layer, whatever it is called. `cut`: outlines and through cuts; `pocket` and `hole`:
 * recesses `depth` mm deep from the face; `engrave` and `leave out`: not to be cut, and said so.
 */
export type LayerRule =
  | { readonly as: 'cut' }
  | { readonly as: 'pocket' | 'hole'; readonly depth: number; readonly face?: Face }
  | { readonly as: 'engrave' }
  | { readonly as: 'leave out' };

/** Rules by layer name. */
export type LayerRules = Readonly<Record<string, LayerRule>>;

/** A rule for a layer, and whether a person gave it or its name was taken at its word. */
export interface AppliedRule {
  readonly rule: LayerRule;
  readonly basis: 'given' | 'name';
}

/** Words in layer names that are taken at their word, with what is then made of the layer. Common practice. */
const WORDS: readonly (readonly [RegExp, LayerRule['as'] & ('engrave' | 'leave out')])[] = [
  [/engrav|etch|(?:^|[^a-z])scor(?:e|ing)|gravur/i, 'engrave'],
  [/cons?turc?tion|construction|(?:^|[^a-z])hidden|cent(?:re|er) ?-?_?line|hilfslinie/i, 'leave out'],
  [/(?:^|[^a-z])dim(?:s|ension|ensions)?(?:$|[^a-z])|bema(?:ß|ss)ung/i, 'leave out'],
  [/do[ _-]?not[ _-]?cut|no[ _-]?cut/i, 'leave out'],
];

/**
 * The rule of each layer that has one: the person's, else what a word in its name says. A name is only taken at its
 * word where other layers are left to be cut.
 */
export function rulesOfLayers(drawing: Drawing, given: LayerRules): ReadonlyMap<string, AppliedRule> {
  const out = new Map<string, AppliedRule>();
  const drawn = new Set(
    drawing.entities.filter((e) => e.kind !== 'text' && e.kind !== 'point').map((e) => e.layer),
  );
  const named = new Map<string, AppliedRule>();
  for (const layer of drawn) {
    if (Object.hasOwn(given, layer)) out.set(layer, { rule: given[layer]!, basis: 'given' });
    else if (layerRole(layer).role === null) {
      const as = WORDS.find(([word]) => word.test(layer))?.[1];
      if (as !== undefined) named.set(layer, { rule: { as }, basis: 'name' });
    }
  }
  const left = [...drawn].some((l) => !named.has(l) && !isLeftOut(out.get(l)?.rule));
  if (left) for (const [layer, rule] of named) out.set(layer, rule);
  return out;
}

/** Whether a rule keeps what is on the layer from being cut. */
export const isLeftOut = (rule: LayerRule | undefined): boolean =>
  rule?.as === 'engrave' || rule?.as === 'leave out';
