/// <reference types="node" />
import { readdirSync, readFileSync } from 'node:fs';
import { resolve } from 'node:path';

const FOLDER = resolve(import.meta.dirname, 'fixtures/svg');

/** The SVG fixtures, each named by the code of the diagnostic that it produces. */
export const SVG_FIXTURES: readonly string[] = readdirSync(FOLDER)
  .filter((f) => f.endsWith('.svg'))
  .map((f) => f.slice(0, -4))
  .sort();

export const svgFixtureBytes = (name: string): Uint8Array =>
  new Uint8Array(readFileSync(resolve(FOLDER, `${name}.svg`)));
