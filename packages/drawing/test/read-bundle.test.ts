/// <reference types="node" />
import { resolve } from 'node:path';
import { createContext, Script } from 'node:vm';
import { build } from 'esbuild';
import { beforeAll, describe, expect, it } from 'vitest';
import { readDxf, readSvg } from '../src/index.js';
import { SAMPLES } from './fuzz-corpus.js';
import { ROOT } from './sideboard.js';

/** What the worker of a browser offers of what a headless package may touch (HTML and Encoding standards). */
const WORKER_GLOBALS = {
  TextDecoder,
  TextEncoder,
  atob,
  btoa,
  URL,
  WebAssembly,
  setTimeout,
  clearTimeout,
  queueMicrotask,
};
/** What only Node offers. */
const NODE_NAMES = [
  'process',
  'Buffer',
  'require',
  'module',
  'global',
  '__dirname',
  'setImmediate',
  'document',
  'window',
];

const bundled = async (source: string): Promise<string> => {
  const built = await build({
    stdin: { contents: source, resolveDir: resolve(ROOT, 'packages/drawing/src'), loader: 'ts' },
    bundle: true,
    write: false,
    format: 'iife',
    globalName: 'out',
    platform: 'browser',
    target: 'es2022',
    conditions: ['@haunch/source'],
    loader: { '.wasm': 'binary' },
    external: ['module', 'fs', 'path', 'url', 'crypto'],
    logLevel: 'error',
  });
  return built.outputFiles[0]!.text;
};

/** Binary files once in each form: what they hold is in the text files too. */
const FEW = SAMPLES.filter(
  (s) => s.format !== 'binary dxf' || s.name.startsWith('binary 2') || s.name.startsWith('binary r'),
);

interface Reader {
  readonly read: (bytes: Uint8Array, format: string, withParts: boolean) => string;
}
const inWorker = (code: string): Reader => {
  const context = createContext({ ...WORKER_GLOBALS });
  new Script(`${code}; globalThis.out = out;`).runInContext(context);
  return (context as unknown as { out: Reader }).out;
};

describe('in a place with the globals of a browser’s worker and no more', () => {
  let reader: Reader;
  beforeAll(async () => {
    const source = `import { readDxf, readSvg, findParts, formatDxf, formatSvg, pictureOfParts, sheetOfParts } from './index.js';
      export const read = (bytes, format, withParts) => {
        const r = format === 'svg' ? readSvg(bytes, { file: 'f' }) : readDxf(bytes, { file: 'f' });
        const parts = r.ok && withParts ? findParts(r.value) : { ok: false };
        if (parts.ok) { formatDxf(sheetOfParts(parts.value)); formatSvg(pictureOfParts(parts.value)); }
        return JSON.stringify(r);
      };`;
    reader = inWorker(await bundled(source));
  });

  it.each(FEW.map((s) => [s.name, s] as const))('%s is read as in Node', (_, s) => {
    const here = s.format === 'svg' ? readSvg(s.bytes, { file: 'f' }) : readDxf(s.bytes, { file: 'f' });
    expect(reader.read(s.bytes, s.format, s.name === 'LWPOLYLINE')).toBe(JSON.stringify(here));
  });

  it.each(NODE_NAMES)('there is no %s, and code that asks for one fails', async (name) => {
    const asking = await bundled(
      `export const read = () => { const x = ${name === 'require' ? 'globalThis.require' : name}; if (x === undefined) throw new ReferenceError('none'); return ''; };`,
    );
    expect(() => inWorker(asking).read(new Uint8Array(), 'dxf', false)).toThrow(/none|not defined/);
  });
});
