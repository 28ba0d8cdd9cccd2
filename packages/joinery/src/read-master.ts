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

/** What zod says of a value that fits none of several forms, in the words of the form that came nearest. */
function said(issue: { readonly message: string; readonly errors?: unknown }): string {
  const forms = (issue.errors as readonly (readonly { readonly message: string }[])[] | undefined) ?? [];
  const all = [...new Set(forms.flatMap((f) => f.slice(0, 1).map((i) => i.message)))];
  return all.length > 0 ? all.join('; or ') : issue.message;
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
