import { readFileSync } from 'node:fs';
import type { PostProcessor } from '@haunch/model';
import { defineDialect } from '@haunch/nc/write';
import { postCases } from '@haunch/testkit';
import { describe, it } from 'vitest';

describe('the dialect of the tutorial keeps every rule of the kit', () => {
  const page = new URL('../../docs/contracts/a-dialect-of-your-own.md', import.meta.url);
  const code = /```ts\n([\s\S]*?)```/.exec(readFileSync(page, 'utf8'))![1]!;
  const body = `${code.replace(/^import .*$/gm, '').replace('export const', 'const')}; return post();`;
  const post = new Function('defineDialect', body)(defineDialect) as PostProcessor;
  for (const c of postCases(post)) it(c.name, c.run);
});
