import { tested } from '../../vitest.base.js';

export default tested('post-iso6983');
