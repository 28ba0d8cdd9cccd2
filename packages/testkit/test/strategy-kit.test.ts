import { describe, expect, it } from 'vitest';
import { checkStrategy, STRATEGY_RULES, strategyCases } from '../src/index.js';
import { BROKEN_STRATEGIES, soundStrategy } from '../src/zoo/index.js';

it('a sound strategy keeps every rule', () => {
  const report = checkStrategy(soundStrategy());
  expect(report.verdicts.flatMap((v) => v.findings)).toEqual([]);
  expect(report.pass).toBe(true);
});

it('rules are numbered once each, without gaps', () => {
  expect(STRATEGY_RULES.map((r) => r.id)).toEqual(
    STRATEGY_RULES.map((_, i) => `N${String(i + 1).padStart(2, '0')}`),
  );
});

describe('each broken strategy is caught by its rule', () => {
  it.each(BROKEN_STRATEGIES.map((b) => [b.fault, b.rule, b] as const))('one that %s: %s', (_, rule, b) => {
    const report = checkStrategy(b.make());
    const failed = report.verdicts.filter((v) => v.verdict === 'fail');
    expect(failed.map((v) => v.rule)).toContain(rule);
    expect(failed.find((v) => v.rule === rule)!.findings[0]).toMatch(/\w{3}/);
  });
  it('and every rule catches one', () => {
    const caught = new Set(BROKEN_STRATEGIES.map((b) => b.rule));
    expect(STRATEGY_RULES.map((r) => r.id).filter((id) => !caught.has(id))).toEqual([]);
  });
});

it('as tests, the rules throw where the report fails', () => {
  const broken = BROKEN_STRATEGIES.find((b) => b.rule === 'N05')!;
  const thrown = strategyCases(broken.make()).filter((c) => {
    try {
      c.run();
      return false;
    } catch {
      return true;
    }
  });
  expect(thrown.map((c) => c.name.slice(0, 3))).toContain('N05');
});

it('chance and the clock are given back as they were', () => {
  const [random, now] = [Math.random, Date.now];
  checkStrategy(BROKEN_STRATEGIES.find((b) => b.rule === 'N02')!.make());
  expect([Math.random, Date.now]).toEqual([random, now]);
});
