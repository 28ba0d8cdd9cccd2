import { tested } from '../../vitest.base.js';

export default tested('web');
