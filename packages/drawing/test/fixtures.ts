/// <reference types="node" />
import { readdirSync, readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import type { Diagnostic, Part } from '@haunch/model';
import { type FindPartsOptions, findParts, type ReadDxfOptions, readDxf } from '../src/index.js';

const FOLDER = resolve(import.meta.dirname, 'fixtures');

/** The fixtures, each named by the code of the diagnostic that it produces. */
export const FIXTURES: readonly string[] = readdirSync(FOLDER)
  .filter((f) => f.endsWith('.dxf'))
  .map((f) => f.slice(0, -4))
  .sort();

export const fixtureBytes = (name: string): Uint8Array =>
  new Uint8Array(readFileSync(resolve(FOLDER, `${name}.dxf`)));

/** Reads a fixture (or other source) and finds its parts; everything that was said on the way. */
export function readAll(
  source: string | Uint8Array,
  read: ReadDxfOptions = {},
  find: FindPartsOptions = {},
): { readonly parts: readonly Part[] | null; readonly diagnostics: readonly Diagnostic[] } {
  const drawing = readDxf(source, read);
  if (!drawing.ok) return { parts: null, diagnostics: drawing.diagnostics };
  const found = findParts(drawing.value, find);
  return {
    parts: found.ok ? found.value : null,
    diagnostics: [...drawing.diagnostics, ...found.diagnostics],
  };
}
