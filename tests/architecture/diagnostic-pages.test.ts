import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { filesBelow, ROOT } from './source-file.js';

/** The codes that a `diagnostics.ts` can produce: `stage/code`. */
function codesIn(text: string): string[] {
  // One maker of diagnostics a stage: `const say = diagnosticsOf('stage')`, then `say('error', 'code', …)`.
  const makers = [...text.matchAll(/const (\w+) = diagnosticsOf\('(\w+)'\)/g)];
  return makers.flatMap(([, name, stage]) =>
    [
      ...text.matchAll(
        new RegExp(`\\b${name}\\(\\s*(?:'(?:error|warning|note)'|[\\w.]+),\\s*'([a-z0-9-]+)'`, 'g'),
      ),
    ].map((m) => `${stage}/${m[1]}`),
  );
}

const files = filesBelow('packages', (p) => /\/src\/.*diagnostics\.ts$/.test(p)).filter((p) =>
  // What only gathers or sorts them makes none.
  /diagnosticsOf\(/.test(readFileSync(join(ROOT, p), 'utf8')),
);

describe('diagnostics', () => {
  it('have one home a package', () => {
    expect(files.length).toBeGreaterThanOrEqual(6);
    const strays = filesBelow(
      'packages',
      (p) => /\/src\/.*\.ts$/.test(p) && !/diagnostics?\.ts$|\.test\.ts$/.test(p),
    ).filter((p) => /diagnosticsOf\(/.test(readFileSync(join(ROOT, p), 'utf8')));
    expect(strays).toEqual([]);
  });

  it.each(files)('%s: every code has its page', (file) => {
    const codes = [...new Set(codesIn(readFileSync(join(ROOT, file), 'utf8')))];
    expect(codes.length).toBeGreaterThan(0);
    const missing = codes.filter((code) => {
      const page = join(ROOT, 'docs/diagnostics', `${code.split('/')[0]}.md`);
      return !existsSync(page) || !new RegExp(`^## \`?${code}\`?\\s*$`, 'm').test(readFileSync(page, 'utf8'));
    });
    expect(missing).toEqual([]);
  });

  it('a code without a page is seen', () =>
    expect(
      codesIn(
        "const say = diagnosticsOf('read');\nexport const x = () => say('error', 'no-such-page', 'm', {}, 'h');",
      ),
    ).toEqual(['read/no-such-page']));
});
