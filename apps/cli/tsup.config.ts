import { bundle } from '../../tsup.base.js';

export default bundle({
  entry: { cli: 'src/cli.ts', 'layout-worker': 'src/layout-bench/worker.ts' },
  platform: 'node',
  target: 'node20',
});
