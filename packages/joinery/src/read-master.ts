import {
  fail,
  formatJsonPath,
  type Locus,
  type Master,
  MasterSchema,
  type Outcome,
  readJson,
  settle,
} from '@haunch/model';
import { checkMaster } from './check-master.js';
import { malformedJson, wrongValue } from './diagnostics.js';

/** What a schema says of a value, as a person would: what is missing, or what was expected instead. */
function plainly(message: string): string {
  const missing = /^Invalid input: expected (.+), received undefined$/.exec(message);
  if (missing) return `a value is missing here: expected ${missing[1]}`;
  return message.replace(/^Invalid input: expected (.+), received (.+)$/, 'expected $1 here instead of $2');
}

/** What a schema says of a value that fits none of several forms: each form once. */
function said(issue: { readonly message: string; readonly errors?: unknown }): string {
  const forms = (issue.errors as readonly (readonly { readonly message: string }[])[] | undefined) ?? [];
  const all = [...new Set(forms.flatMap((f) => f.slice(0, 1).map((i) => plainly(i.message))))];
  return all.length > 0 ? all.join('; or ') : plainly(issue.message);
}

/**
 * Reads a `haunch-master` version 1 from its JSON text. Every problem is reported with its line and its path,
 * several together: first what the format does not allow, then what it allows but cannot be meant (ids twice,
 * names that do not exist, open or crossing loops, unequal radii, frames that are not right-handed, edges off
 * their marks). `file` is only named in diagnostics. Never throws.
 */
export function readMaster(text: string, file?: string): Outcome<Master> {
  const inFile = file === undefined ? {} : { file };
  const json = readJson(text);
  if ('problem' in json) return fail(malformedJson(json.problem, { ...inFile, line: json.line }));
  const at = (path: readonly PropertyKey[]): Locus => ({
    ...inFile,
    line: json.lineOf(path),
    ...(path.length > 0 ? { path: formatJsonPath(path) } : {}),
  });
  const parsed = MasterSchema.safeParse(json.value);
  if (!parsed.success)
    return fail(
      ...parsed.error.issues.map((issue) =>
        wrongValue(said(issue as { message: string; errors?: unknown }), at(issue.path)),
      ),
    );
  return settle(parsed.data, checkMaster(parsed.data, at));
}
