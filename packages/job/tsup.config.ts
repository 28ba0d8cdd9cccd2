import { bundle } from '../../tsup.base.js';

export default bundle({
  entry: {
    index: 'src/index.ts',
    'paper/index': 'src/paper/index.ts',
    'shop-book/index': 'src/shop-book/index.ts',
  },
});
