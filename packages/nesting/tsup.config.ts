import { bundle } from '../../tsup.base.js';

export default bundle({ entry: ['src/index.ts', 'src/trial/index.ts'] });
