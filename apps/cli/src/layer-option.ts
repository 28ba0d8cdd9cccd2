import type { LayerRule } from '@haunch/drawing';
import { InvalidArgumentError } from 'commander';
import { positiveLengthOption } from './length-option.js';

const FORMS = 'cut, pocket:8mm, hole:12mm, engrave or leave-out; pocket:8mm:under for the other face';

/** Collects `NAME=RULE` options, such as `--layer HOUSING-8=pocket:8mm`. */
export function layerOption(
  text: string,
  before: Readonly<Record<string, LayerRule>> = {},
): Record<string, LayerRule> {
  const at = text.lastIndexOf('=');
  if (at < 1) throw new InvalidArgumentError(`'${text}' is not LAYER=RULE; rules are ${FORMS}`);
  return { ...before, [text.slice(0, at)]: ruleOf(text.slice(at + 1)) };
}

function ruleOf(text: string): LayerRule {
  if (text === 'cut' || text === 'engrave') return { as: text };
  if (text === 'leave-out' || text === 'leave out') return { as: 'leave out' };
  const [, as, depth, under] = /^(pocket|hole):([^:]+)(:under)?$/.exec(text) ?? [];
  if (as === undefined || depth === undefined)
    throw new InvalidArgumentError(`'${text}' is no rule for a layer; rules are ${FORMS}`);
  return {
    as: as === 'pocket' ? 'pocket' : 'hole',
    depth: positiveLengthOption(depth),
    face: under === undefined ? 'n+' : 'n-',
  };
}

/** Collects an option that may be given several times. */
export const severalOption = (text: string, before: readonly string[] = []): string[] => [...before, text];
