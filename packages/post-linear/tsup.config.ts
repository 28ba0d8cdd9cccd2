import { bundle } from '../../tsup.base.js';

export default bundle();
