import type { Outcome } from '@haunch/model';
import { plainEntities } from '../src/curves/plain-entities.js';
import { type Drawing, findParts, readDxf, readSvg } from '../src/index.js';
import { blow } from './fuzz-blows.js';
import { SAMPLES, type Sample } from './fuzz-corpus.js';
import { seeded } from './seeded.js';

/** The first number that is not finite in a value, with its path; null where there is none. */
export function unsound(value: unknown, path = ''): string | null {
  if (typeof value === 'number') return Number.isFinite(value) ? null : `${path} is ${value}`;
  if (typeof value !== 'object' || value === null) return null;
  for (const [key, v] of Object.entries(value)) {
    const found = unsound(v, `${path}.${key}`);
    if (found !== null) return found;
  }
  return null;
}

/** What is wrong with how something was answered: not located, not said plainly, or unsound; null where nothing is. */
export function complaint(answer: Outcome<unknown>, file: string, needsLine: boolean): string | null {
  if (!answer.ok && !answer.diagnostics.some((d) => d.level === 'error')) return 'refused without an error';
  if (answer.ok && answer.diagnostics.some((d) => d.level === 'error')) return 'accepted with an error';
  for (const d of answer.diagnostics) {
    if (d.locus.file !== file) return `${d.code} does not name the file`;
    if (needsLine && d.level === 'error' && !((d.locus.line ?? 0) >= 1)) return `${d.code} has no line`;
    if (d.message.length > 500 || d.hint === '') return `${d.code} is too long or has no hint`;
    if (/undefined|\[object|^\s*at .*:\d+:\d+/m.test(d.message)) return `${d.code} says ${d.message}`;
  }
  return unsound(answer);
}

/** The file number `index` of a run: a sample with one to three blows. The same for the same numbers, always. */
export function spoilt(seed: number, index: number): { readonly sample: Sample; readonly bytes: Uint8Array } {
  const random = seeded(Math.imul(seed, 0x9e3779b1) ^ Math.imul(index + 1, 0x85ebca6b));
  const sample = SAMPLES[index % SAMPLES.length]!;
  const other = SAMPLES[Math.floor(random() * SAMPLES.length)]!.bytes;
  let { bytes } = sample;
  for (let k = Math.floor(random() * 3); k >= 0; k--) bytes = blow(sample, bytes, other, random);
  return { sample, bytes };
}

/** How far a file came. */
export type Reached = 'refused' | 'drawing' | 'parts';

/** Reads bytes as whoever opens a drawing does; throws an Error that says what is wrong with the answer. */
export function judge(bytes: Uint8Array, format: Sample['format'], withParts: boolean): Reached {
  const file = format === 'svg' ? 'spoilt.svg' : 'spoilt.dxf';
  const read: Outcome<Drawing> = format === 'svg' ? readSvg(bytes, { file }) : readDxf(bytes, { file });
  const wrong = complaint(read, file, true);
  if (wrong !== null) throw new Error(wrong);
  if (!read.ok) return 'refused';
  const plain = unsound(plainEntities(read.value.entities));
  if (plain !== null) throw new Error(`curves: ${plain}`);
  if (!withParts) return 'drawing';
  const parts = findParts(read.value);
  const wrongParts = complaint(parts, file, false);
  if (wrongParts !== null) throw new Error(`parts: ${wrongParts}`);
  return parts.ok ? 'parts' : 'drawing';
}
