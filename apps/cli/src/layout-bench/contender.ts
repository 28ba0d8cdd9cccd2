import { createRequire as requireFrom } from 'node:module';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { NestingStrategy } from '@haunch/model';
import { constructive, overlapMinimising } from '@haunch/nesting';
import type { Contender } from '@haunch/nesting/trial';
import { UsageError } from '../exit.js';

/** The project's own strategies, by name. */
const OWN: readonly NestingStrategy[] = [constructive, overlapMinimising] as unknown as NestingStrategy[];

/** Names of the project's own strategies. */
export const ownStrategies = (): string[] => OWN.map((s) => s.name);

/** Why what a package gave is no strategy of contract 1. */
function faultOf(v: unknown): string | undefined {
  if (typeof v !== 'object' || v === null) return 'it exports no object named strategy';
  const s = v as Record<string, unknown>;
  if (s.contract !== 1) return `its strategy is of contract ${String(s.contract)}; 1 is known here`;
  if (typeof s.name !== 'string' || s.name === '') return 'its strategy has no name';
  if (typeof s.nest !== 'function') return 'its strategy has no function nest';
  if (typeof s.defaults !== 'object' || s.defaults === null) return 'its strategy has no defaults';
  return undefined;
}

/**
 * The strategy of that name: one of the project's own, or what a package or file found from the folder exports as
 * `strategy`.
 * @throws UsageError when there is none.
 */
export async function contenderNamed(name: string, from: string): Promise<Contender> {
  const own = OWN.find((s) => s.name === name);
  if (own) return { strategy: own, options: own.defaults };
  let made: unknown;
  try {
    const found = requireFrom(pathToFileURL(join(from, 'x.js'))).resolve(name);
    made = ((await import(pathToFileURL(found).href)) as Record<string, unknown>).strategy;
  } catch (e) {
    throw new UsageError(
      `the strategy '${name}' cannot be loaded: ${(e as Error).message.split('\n')[0]}; the project's own are ${ownStrategies().join(', ')}`,
    );
  }
  const fault = faultOf(made);
  if (fault !== undefined) throw new UsageError(`the package '${name}' is no layout strategy: ${fault}`);
  const strategy = made as NestingStrategy;
  return { strategy, options: strategy.defaults };
}
