import { defineConfig } from 'vite';
import { offline } from './build/offline.js';
import { wasmBeside } from './build/wasm-beside.js';

// Packages are taken from their sources, so that only what a page calls is bundled for it.
export default defineConfig({
  base: './',
  resolve: { conditions: ['@haunch/source', 'module', 'browser', 'development|production'] },
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
  plugins: [wasmBeside(), offline()],
  worker: { format: 'es', plugins: () => [wasmBeside()] },
  build: {
    target: 'es2022',
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    chunkSizeWarningLimit: 2_000,
  },
});
