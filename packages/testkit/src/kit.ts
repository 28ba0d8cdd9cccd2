/** One rule of a kit: a number that never changes, what must hold, and why. */
export interface KitRule<Subject> {
  /** Stable: a number is never given to another rule. */
  readonly id: string;
  readonly title: string;
  /** What goes wrong in a workshop, or in a study, when it does not hold. */
  readonly why: string;
  /** One sentence for each breach; none when the rule holds. */
  readonly check: (subject: Subject) => readonly string[];
}

/** What a rule says of a plugin. */
export interface KitVerdict {
  readonly rule: string;
  readonly title: string;
  readonly verdict: 'pass' | 'fail';
  /** At most ten breaches, each with the sample that shows it. */
  readonly findings: readonly string[];
}

/** What a kit says of a plugin. Plain data. */
export interface KitReport {
  readonly kind: 'kit report';
  readonly plugin: string;
  readonly pass: boolean;
  readonly verdicts: readonly KitVerdict[];
}

/** One rule as a test for any runner: `for (const c of cases) it(c.name, c.run)`. */
export interface KitCase {
  readonly name: string;
  /** @throws Error naming every breach of the rule. */
  readonly run: () => void;
}

/** The most breaches told of one rule. */
const MOST = 10;

function judge<Subject>(rule: KitRule<Subject>, subject: Subject): KitVerdict {
  let findings: readonly string[];
  try {
    findings = rule.check(subject);
  } catch (e) {
    findings = [`threw ${e instanceof Error ? `${e.name}: ${e.message}` : String(e)}`];
  }
  return {
    rule: rule.id,
    title: rule.title,
    verdict: findings.length === 0 ? 'pass' : 'fail',
    findings: findings.slice(0, MOST),
  };
}

/** Applies rules to a plugin. */
export function applyRules<Subject>(
  rules: readonly KitRule<Subject>[],
  plugin: string,
  subject: Subject,
): KitReport {
  const verdicts = rules.map((r) => judge(r, subject));
  return { kind: 'kit report', plugin, pass: verdicts.every((v) => v.verdict === 'pass'), verdicts };
}

/** The rules as tests. What they are applied to is made when the first of them runs. */
export function casesOf<Subject>(
  rules: readonly KitRule<Subject>[],
  make: () => Subject,
): readonly KitCase[] {
  let made: { readonly subject: Subject } | null = null;
  return rules.map((rule) => ({
    name: `${rule.id} ${rule.title}`,
    run: () => {
      made ??= { subject: make() };
      const { findings } = judge(rule, made.subject);
      if (findings.length > 0)
        throw new Error(`${rule.id} ${rule.title}: ${findings.join('; ')}. Why it matters: ${rule.why}`);
    },
  }));
}
