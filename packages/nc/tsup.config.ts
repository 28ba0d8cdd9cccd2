import { bundle } from '../../tsup.base.js';

export default bundle({ entry: ['src/index.ts', 'src/read/index.ts', 'src/write/index.ts'] });
