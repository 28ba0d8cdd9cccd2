import type { Plugin } from 'vite';

/**
 * Leaves a `.wasm` import empty: its own loader then fetches the file that lies beside the page, which compiles as it comes and is smaller
 * than bytes in a text.
 */
export const wasmBeside = (): Plugin => ({
  name: 'wasm-beside',
  enforce: 'pre',
  load: (id) => (id.endsWith('.wasm') ? 'export default undefined;' : null),
});
