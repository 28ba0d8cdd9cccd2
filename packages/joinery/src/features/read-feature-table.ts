import {
  type FeatureTable,
  FeatureTableSchema,
  fail,
  formatJsonPath,
  issueText,
  type Locus,
  type Outcome,
  ok,
  readJson,
  type SchemaIssue,
} from '@haunch/model';
import { tableMalformed } from './diagnostics.js';

/**
 * Reads a `haunch-features` version 1 from its JSON text; problems come with line and path. Whether it fits a drawing
 * is checked by `refitByFeatures`. `file` is only named in diagnostics. Never throws.
 */
export function readFeatureTable(text: string, file?: string): Outcome<FeatureTable> {
  const inFile: Locus = file === undefined ? {} : { file };
  const json = readJson(text);
  if ('problem' in json) return fail(tableMalformed(json.problem, { ...inFile, line: json.line }));
  const parsed = FeatureTableSchema.safeParse(json.value);
  if (parsed.success) return ok(parsed.data);
  return fail(
    ...parsed.error.issues.map((issue) =>
      tableMalformed(issueText(issue as SchemaIssue), {
        ...inFile,
        line: json.lineOf(issue.path),
        ...(issue.path.length > 0 ? { path: formatJsonPath(issue.path) } : {}),
      }),
    ),
  );
}

/** A table as text, one feature and one relief a line. `readFeatureTable` gives the same value back. */
export function formatFeatureTable(table: FeatureTable): string {
  const rows = (list: readonly unknown[]): string =>
    list.length === 0 ? '[]' : `[\n${list.map((v) => `  ${JSON.stringify(v)}`).join(',\n')}\n ]`;
  const entries = Object.entries(table).map(([key, value]) =>
    key === 'features' || key === 'reliefs'
      ? ` ${JSON.stringify(key)}: ${rows(value as readonly unknown[])}`
      : ` ${JSON.stringify(key)}: ${JSON.stringify(value)}`,
  );
  return `{\n${entries.join(',\n')}\n}\n`;
}
