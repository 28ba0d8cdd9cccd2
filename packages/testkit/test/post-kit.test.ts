import { describe, expect, it } from 'vitest';
import { checkPost, POST_RULES, postCases } from '../src/index.js';
import { BROKEN_POSTS, soundPost } from '../src/zoo/index.js';

const failed = (report: ReturnType<typeof checkPost>) =>
  report.verdicts.filter((v) => v.verdict === 'fail').map((v) => v.rule);

it('a sound post keeps every rule', () => {
  const report = checkPost(soundPost());
  expect(report.verdicts.flatMap((v) => v.findings)).toEqual([]);
  expect(report.pass).toBe(true);
});

it('rules are numbered once each, without gaps', () => {
  expect(POST_RULES.map((r) => r.id)).toEqual(POST_RULES.map((_, i) => `T${String(i + 1).padStart(2, '0')}`));
});

describe('each broken post is caught by its rule', () => {
  it.each(BROKEN_POSTS.map((b) => [b.fault, b.rule, b] as const))('one that %s: %s', (_, rule, b) => {
    const report = checkPost(b.make());
    expect(failed(report)).toContain(rule);
    const verdict = report.verdicts.find((v) => v.rule === rule)!;
    expect(verdict.findings[0]).toMatch(/\w{3}/);
  });
  it('and every rule catches one', () => {
    const caught = new Set(BROKEN_POSTS.map((b) => b.rule));
    expect(POST_RULES.map((r) => r.id).filter((id) => !caught.has(id))).toEqual([]);
  });
});

it('as tests, the rules throw where the report fails, and name the rule', () => {
  const broken = BROKEN_POSTS.find((b) => b.rule === 'T09')!;
  const cases = postCases(broken.make());
  const thrown = cases.filter((c) => {
    try {
      c.run();
      return false;
    } catch (e) {
      expect((e as Error).message).toContain(c.name.slice(0, 3));
      return true;
    }
  });
  expect(thrown.map((c) => c.name.slice(0, 3))).toContain('T09');
  expect(thrown.length).toBeLessThan(cases.length);
});

it('the same post gives the same report', () => {
  expect(checkPost(soundPost())).toEqual(checkPost(soundPost()));
});
