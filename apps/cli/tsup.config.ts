import { bundle } from '../../tsup.base.js';

export default bundle({ entry: { cli: 'src/cli.ts' }, platform: 'node', target: 'node20' });
