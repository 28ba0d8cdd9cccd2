import { readFileSync } from 'node:fs';
import { defineConfig, type Plugin } from 'vitest/config';

/** Inlines a `.wasm` import as bytes, as the bundles do, so that tests run from source. */
const wasmBytes: Plugin = {
  name: 'wasm-bytes',
  enforce: 'pre',
  load(id) {
    if (!id.endsWith('.wasm')) return null;
    const base64 = readFileSync(id).toString('base64');
    return `export default Uint8Array.from(atob(${JSON.stringify(base64)}), (c) => c.charCodeAt(0));`;
  },
};

/**
 * What lives briefly is most of what geometry makes: with more room for it, a tenth less time goes into clearing up. And functions
 * are optimised later than this engine does by itself, as the command line has it (`optimise-later.ts`): a seventh less.
 */
export const ENGINE_FLAGS = [
  '--max-semi-space-size=64',
  ...(/^11\./.test(process.versions.v8) ? ['--interrupt-budget=600000'] : []),
];

/** The one way in which every package is tested: workspace packages are taken from their sources. */
export const tested = (name: string, include = ['src/**/*.test.ts', 'test/**/*.test.ts']) =>
  defineConfig({
    plugins: [wasmBytes],
    resolve: { conditions: ['@haunch/source'] },
    ssr: { resolve: { conditions: ['@haunch/source'] } },
    test: {
      name,
      include,
      testTimeout: 90_000,
      // Nothing that is tested keeps state, so files can share what they have loaded; loading it anew for each
      // file costs a quarter of the whole run.
      isolate: false,
      execArgv: ENGINE_FLAGS,
      server: { deps: { inline: ['clipper2-wasm', /@haunch\//] } },
    },
  });
