import { defineConfig, type Options } from 'tsup';

/** The one way in which every package is bundled: ESM, source maps, no declarations (tsc writes those). */
export const bundle = (options: Options = {}) =>
  defineConfig({
    entry: ['src/index.ts'],
    format: ['esm'],
    dts: false,
    sourcemap: true,
    clean: true,
    target: 'es2022',
    platform: 'neutral',
    ...options,
  });
