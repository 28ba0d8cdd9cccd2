import { join } from 'node:path';
import ts from 'typescript';
import { expect, it } from 'vitest';
import { filesBelow, ROOT } from './source-file.js';

/** The names exported from these doors whose declarations carry no docstring. */
function undocumented(doors: readonly string[], host?: ts.CompilerHost): string[] {
  const options: ts.CompilerOptions = {
    target: ts.ScriptTarget.ES2022,
    module: ts.ModuleKind.ESNext,
    moduleResolution: ts.ModuleResolutionKind.Bundler,
    customConditions: ['@haunch/source'],
    skipLibCheck: true,
    noEmit: true,
    types: [],
  };
  const program = host ? ts.createProgram([...doors], options, host) : ts.createProgram([...doors], options);
  const checker = program.getTypeChecker();
  const out: string[] = [];
  for (const door of doors) {
    const module = checker.getSymbolAtLocation(program.getSourceFile(door)!);
    if (!module) throw new Error(`${door} exports nothing`);
    for (const exported of checker.getExportsOfModule(module)) {
      const symbol = exported.flags & ts.SymbolFlags.Alias ? checker.getAliasedSymbol(exported) : exported;
      const documented = (symbol.declarations ?? []).some((d) => ts.getJSDocCommentsAndTags(d).length > 0);
      // A schema's inferred type stands beside its documented schema under the same name.
      if (!documented) out.push(`${door.replace(`${ROOT}`, '')}: ${exported.name}`);
    }
  }
  return [...new Set(out)];
}

it('every public export has a docstring', () => {
  const doors = filesBelow('packages', (p) => /^packages\/[^/]+\/src\/(?:[a-z]+\/)?index\.ts$/.test(p)).map(
    (p) => join(ROOT, p),
  );
  expect(doors.length).toBeGreaterThanOrEqual(10);
  expect(undocumented(doors)).toEqual([]);
});

it('an export without a docstring is caught', () => {
  const text =
    '/** Said. */\nexport const said = 1;\nexport const unsaid = 2;\nexport interface Unsaid { x: number }';
  const host = ts.createCompilerHost({});
  const read = host.getSourceFile.bind(host);
  host.getSourceFile = (name, target) =>
    name === '/door.ts' ? ts.createSourceFile(name, text, target) : read(name, target);
  host.fileExists = (name) => name === '/door.ts' || ts.sys.fileExists(name);
  expect(undocumented(['/door.ts'], host).map((s) => s.split(': ')[1])).toEqual(['unsaid', 'Unsaid']);
});
