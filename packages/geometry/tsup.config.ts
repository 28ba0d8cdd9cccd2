import { bundle } from '../../tsup.base.js';

// The wasm bytes are carried inside the bundle, so that no page or server has to find a file.
export default bundle({
  noExternal: ['clipper2-wasm'],
  external: ['module', 'fs', 'path', 'url'],
  loader: { '.wasm': 'binary' },
});
