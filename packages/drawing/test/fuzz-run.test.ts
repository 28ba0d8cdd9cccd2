/// <reference types="node" />
import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { ok } from '@haunch/model';
import { describe, expect, it } from 'vitest';
import { ENTITY_READERS } from '../src/dxf/entity-readers.js';
import { SAMPLED_TYPES, SAMPLES } from './fuzz-corpus.js';
import { complaint, judge, type Reached, spoilt, unsound } from './fuzz-judge.js';

/** `npm run fuzz -w packages/drawing -- --count 100000 --seed 1` sets these; CI takes few, always the same. */
const COUNT = Number(process.env.FUZZ_COUNT ?? 2000);
const SEED = Number(process.env.FUZZ_SEED ?? 1);
const WITH_PARTS = process.env.FUZZ_PARTS !== '0';
const LONG = process.env.FUZZ_COUNT !== undefined;
/** A file of this size must be answered within two seconds; measured only in long runs, thrice, on any machine. */
const HANG_MS = 2000;

const FOUND = resolve(import.meta.dirname, 'fuzz-found');
const KEPT = existsSync(FOUND) ? readdirSync(FOUND).sort() : [];

describe('the samples', () => {
  it('hold every type of entity that has a reader', () => {
    expect([...ENTITY_READERS.keys()].filter((t) => !SAMPLED_TYPES.includes(t))).toEqual([]);
  });

  it.each(SAMPLES.map((s) => [s.name, s] as const))('%s is read as it is', (_, s) => {
    expect(judge(s.bytes, s.format, false)).toBe('drawing');
  });
});

describe('the judge', () => {
  it('finds numbers that are not finite, however deep', () => {
    expect(unsound({ a: [{ x: 1 }, { x: Number.NaN }] })).toBe('.a.1.x is NaN');
    expect(unsound({ a: [1, Infinity] })).toBe('.a.1 is Infinity');
    expect(unsound({ a: [1, null, 'NaN'] })).toBeNull();
  });

  it('objects to answers without a place, without an error, and with words of the machine', () => {
    const d = {
      kind: 'diagnostic',
      code: 'read/x',
      level: 'error',
      stage: 'read',
      message: 'No.',
      hint: 'Do.',
    } as const;
    const located = { ...d, locus: { file: 'f', line: 3 } };
    expect(complaint({ ok: false, diagnostics: [located] }, 'f', true)).toBeNull();
    expect(complaint({ ok: false, diagnostics: [] }, 'f', true)).toContain('without an error');
    expect(complaint(ok(1, [located]), 'f', true)).toContain('with an error');
    expect(complaint({ ok: false, diagnostics: [{ ...d, locus: { file: 'f' } }] }, 'f', true)).toContain(
      'no line',
    );
    expect(complaint({ ok: false, diagnostics: [{ ...d, locus: {} }] }, 'f', true)).toContain(
      'name the file',
    );
    const raw = { ...located, message: "Cannot read 'x' of undefined" };
    expect(complaint({ ok: false, diagnostics: [raw] }, 'f', true)).toContain('undefined');
  });
});

it.each(KEPT)('%s, which once was answered wrongly, no longer is', (name) => {
  const format = name.endsWith('.svg') ? 'svg' : 'dxf';
  judge(new Uint8Array(readFileSync(join(FOUND, name))), format, false);
});

it(`answers ${COUNT} spoilt files without a throw, a number that is not finite or an error without a place`, {
  timeout: LONG ? 24 * 3600 * 1000 : 120_000,
}, () => {
  const reached: Record<Reached, number> = { refused: 0, drawing: 0, parts: 0 };
  const failures: string[] = [];
  let slowest = { ms: 0, index: -1 };
  const started = performance.now();
  for (let i = 0; i < COUNT && failures.length < 20; i++) {
    const { sample, bytes } = spoilt(SEED, i);
    const attempt = (): number => {
      const before = performance.now();
      reached[judge(bytes, sample.format, WITH_PARTS)]++;
      return performance.now() - before;
    };
    try {
      let ms = attempt();
      if (ms > slowest.ms) slowest = { ms, index: i };
      if (LONG && ms > HANG_MS) {
        for (let k = 0; k < 2; k++) ms = Math.min(ms, attempt());
        if (ms > HANG_MS) throw new Error(`takes ${(ms / 1000).toFixed(1)} s`);
      }
    } catch (e) {
      failures.push(
        `${i} (${sample.name}): ${e instanceof Error ? (e.stack ?? e.message).split('\n').slice(0, 4).join(' | ') : e}`,
      );
      if (LONG)
        writeFileSync(
          join(tmpdir(), `spoilt-${SEED}-${i}.${sample.format === 'svg' ? 'svg' : 'dxf'}`),
          bytes,
        );
    }
    if (LONG && i % 5000 === 4999) console.info(`${i + 1} files, ${JSON.stringify(reached)}`);
  }
  const seconds = ((performance.now() - started) / 1000).toFixed(0);
  if (LONG)
    console.info(
      `${COUNT} files of seed ${SEED} in ${seconds} s: ${JSON.stringify(reached)}; slowest ${slowest.ms.toFixed(0)} ms, file ${slowest.index}`,
    );
  expect(failures).toEqual([]);
  // The blows reach every stage; otherwise they would prove nothing.
  const stages = WITH_PARTS ? Object.values(reached) : [reached.refused, reached.drawing];
  expect(Math.min(...stages)).toBeGreaterThan(COUNT / 50);
});
