import type { NestingStrategy } from '@haunch/model';
import { applyRules, casesOf, type KitCase, type KitReport } from '../kit.js';
import { STRATEGY_RULES } from './strategy-rules.js';
import { tryStrategy } from './strategy-trial.js';

/**
 * Gives the kit's layout problems to a nesting strategy, lets the referee judge every layout, and applies every rule.
 * Instances that the strategy says it cannot handle are passed over. Never throws, whatever the strategy does. The same
 * strategy gives the same report.
 */
export const checkStrategy = <Options>(strategy: NestingStrategy<Options>): KitReport =>
  applyRules(STRATEGY_RULES, strategy.name, tryStrategy(strategy as NestingStrategy<unknown>));

/**
 * The same as one test for each rule, for any test runner:
 * `for (const c of strategyCases(strategy)) it(c.name, c.run)`.
 */
export const strategyCases = <Options>(strategy: NestingStrategy<Options>): readonly KitCase[] =>
  casesOf(STRATEGY_RULES, () => tryStrategy(strategy as NestingStrategy<unknown>));
