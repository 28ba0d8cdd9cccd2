import { bundle } from '../../tsup.base.js';

export default bundle({
  entry: {
    cli: 'src/start.ts',
    haunch: 'src/cli.ts',
    'layout-worker': 'src/layout-bench/worker.ts',
    'proof-worker': 'src/provers/proof-worker.ts',
  },
  platform: 'node',
  target: 'node20',
});
