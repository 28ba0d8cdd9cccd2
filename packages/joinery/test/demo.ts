/// <reference types="node" />
import { readFileSync } from 'node:fs';
import type { Master, Outcome } from '@haunch/model';
import { readMaster } from '../src/index.js';

const at = (path: string): URL => new URL(`../../../${path}`, import.meta.url);

/** The text of the example master. */
export const DEMO_TEXT: string = readFileSync(at('docs/examples/sideboard/sideboard-18.master.json'), 'utf8');

/** What must come out of it at 17.4 mm, from the same drawing office as the master. */
export const TRUTH_TEXT: string = readFileSync(
  at('tests/fixtures/sideboard/sideboard-17.4.truth.json'),
  'utf8',
);

/** The value of an outcome; a refusal fails the test with its sentences. */
export function valueIn<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(outcome.diagnostics.map((d) => `${d.code} ${d.message}`).join('\n'));
  return outcome.value;
}

/** The master that a text holds. */
export const masterOf = (text: string): Master => valueIn(readMaster(text));

/** The example: a hall sideboard of eleven plates and 23 mates, drawn for 18 mm. */
export const demo: Master = masterOf(DEMO_TEXT);

/** One thickness for every part. */
export const all = (master: Master, thickness: number): Record<string, number> =>
  Object.fromEntries(master.parts.map((p) => [p.id, thickness]));

/** A deep copy that may be spoiled. */
export const copy = (master: Master): Spoilable<Master> =>
  JSON.parse(JSON.stringify(master)) as Spoilable<Master>;

/** The same shape with everything writable. */
export type Spoilable<T> = T extends object ? { -readonly [K in keyof T]: Spoilable<T[K]> } : T;
