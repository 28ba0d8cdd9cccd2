import { bundle } from '../../tsup.base.js';

export default bundle({ entry: ['src/index.ts', 'src/zoo/index.ts', 'src/arbitraries/index.ts'] });
