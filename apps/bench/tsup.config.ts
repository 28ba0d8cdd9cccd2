import { bundle } from '../../tsup.base.js';

export default bundle({
  entry: {
    bench: 'src/bench.ts',
    kernels: 'src/kernels.ts',
    layouts: 'src/layouts.ts',
    mutations: 'src/mutation-trial.ts',
  },
  platform: 'node',
  target: 'node20',
});
