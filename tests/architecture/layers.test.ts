import { describe, expect, it } from 'vitest';
import { cycles, independenceProblems, layerProblems } from './rules.js';
import { importsOf, shippedSources } from './source-file.js';

const tree = (files: Record<string, string>) =>
  Object.entries(files).map(([path, text]) => ({ path, imports: importsOf(path, text) }));

describe('the house as it stands', () => {
  const sources = shippedSources();
  it('is looked at whole', () => {
    expect(sources.length).toBeGreaterThan(60);
    expect(new Set(sources.map((s) => s.path.split('/')[1])).size).toBeGreaterThanOrEqual(11);
  });
  it('imports only downward, never a sibling, never node: in a headless package', () =>
    expect(layerProblems(sources)).toEqual([]));
  it('has no cycle of imports, types included', () => expect(cycles(sources)).toEqual([]));
  it('keeps its judges independent of what they judge', () =>
    expect(independenceProblems(sources)).toEqual([]));
});

describe('the rules catch', () => {
  it.each([
    ['an upward import', { 'packages/geometry/src/a.ts': "import '@haunch/model';" }, /from above/],
    [
      'an upward type import',
      { 'packages/model/src/a.ts': "export type T = import('@haunch/proof').X;" },
      /from above/,
    ],
    [
      'a sibling import',
      { 'packages/joinery/src/a.ts': "import type { X } from '@haunch/drawing';" },
      /sibling/,
    ],
    ['a re-export from above', { 'packages/nc/src/a.ts': "export * from '@haunch/job';" }, /from above/],
    [
      'node: in a headless package',
      { 'packages/proof/src/a.ts': "import { readFileSync } from 'node:fs';" },
      /headless/,
    ],
    ['a dynamic node: import', { 'packages/nc/src/a.ts': "await import('node:path');" }, /headless/],
    ['a package without a layer', { 'packages/utils/src/a.ts': '' }, /no layer/],
    [
      'a path that climbs into another package',
      { 'packages/proof/src/a.ts': "import '../../planner/src/b.js';", 'packages/planner/src/b.ts': '' },
      /past its package/,
    ],
  ])('%s', (_, files, says) =>
    expect(layerProblems(tree(files as unknown as Record<string, string>)).join('\n')).toMatch(says),
  );

  it('a cycle through a type import', () =>
    expect(
      cycles(
        tree({
          'packages/nc/src/a.ts': "import type { B } from './b.js';",
          'packages/nc/src/b.ts': "import { a } from './a.js';",
        }),
      ),
    ).toHaveLength(1));

  it.each([
    [
      'a reader that leans on the writer',
      { 'packages/nc/src/read/a.ts': "import '../write/b.js';", 'packages/nc/src/write/b.ts': '' },
    ],
    ['a proof that leans on the writer', { 'packages/proof/src/a.ts': "import '@haunch/nc';" }],
    ['a proof that leans on the planner', { 'packages/proof/src/a.ts': "import '@haunch/planner';" }],
    [
      'a referee that knows a strategy',
      {
        'packages/nesting/src/check-layout.ts': "import './strategies/s.js';",
        'packages/nesting/src/strategies/s.ts': '',
      },
    ],
  ])('%s', (_, files) =>
    expect(independenceProblems(tree(files as unknown as Record<string, string>))).toHaveLength(1),
  );
});
