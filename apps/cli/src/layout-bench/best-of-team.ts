import { figureOf } from '@haunch/nesting/trial';
import type { Done } from './crew.js';
import type { TrialOrder } from './trial-order.js';

/**
 * Takes in what one explorer of a trial came to. Once the last of them has ended, what the trial came to: the best figure, the first of
 * equal ones; it can be repeated only where each of them can, as the others told it what they had and might have been better.
 */
export function bestOfTeam(teams: Map<string, Done[]>, order: TrialOrder, own: Done): Done | undefined {
  const { explorer, explorers, ...trial } = order;
  const name = JSON.stringify(trial);
  const team = teams.get(name) ?? [];
  teams.set(name, team);
  team[explorer] = own;
  if (team.filter((d) => d !== undefined).length < explorers) return undefined;
  const figure = (d: Done): number => ('failure' in d ? -Infinity : (figureOf(d.result) ?? -Infinity));
  const best = team.reduce((a, d) => (figure(d) > figure(a) ? d : a));
  if ('failure' in best || team.every((d) => !('failure' in d) && d.result.reproducible)) return best;
  return { ...best, result: { ...best.result, reproducible: false } };
}
