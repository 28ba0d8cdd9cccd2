import { bundle } from '../../tsup.base.js';

export default bundle({
  entry: { bench: 'src/bench.ts', kernels: 'src/kernels.ts' },
  platform: 'node',
  target: 'node20',
});
