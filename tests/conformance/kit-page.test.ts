import { readFileSync } from 'node:fs';
import { POST_RULES, STRATEGY_RULES } from '@haunch/testkit';
import { expect, it } from 'vitest';

it('the page of the kits’ rules names every rule, in order, and no other', () => {
  const page = readFileSync(new URL('../../docs/contracts/kit-rules.md', import.meta.url), 'utf8');
  expect([...page.matchAll(/^## (.+)$/gm)].map((m) => m[1])).toEqual(
    [...POST_RULES, ...STRATEGY_RULES].map((r) => `${r.id} ${r.title}`),
  );
});
