import {
  fail,
  formatJsonPath,
  issueText,
  type Locus,
  type Master,
  MasterSchema,
  type Outcome,
  readJson,
  type SchemaIssue,
  settle,
} from '@haunch/model';
import { checkMaster } from './check-master.js';
import { drawingForMaster, malformedJson, wrongValue } from './diagnostics.js';

/** The id of the part that a path leads into, where it has one. */
function partAt(value: unknown, path: readonly PropertyKey[]): { part?: string } {
  if (path[0] !== 'parts' || typeof path[1] !== 'number') return {};
  const id = (value as { parts?: { id?: unknown }[] }).parts?.[path[1]]?.id;
  return typeof id === 'string' ? { part: id } : {};
}

/** How drawings begin: a DXF with a group code on a line of its own, an SVG with an element. */
const DRAWINGS: readonly (readonly [string, RegExp])[] = [
  ['DXF', /^\uFEFF?\s*(?:0|999)\s*\r?\n/],
  ['SVG', /^\uFEFF?\s*</],
];

/**
 * Reads a `haunch-master` version 1 from its JSON text. Every problem is reported with its line and its path,
 * several together: first what the format does not allow, then what it allows but cannot be meant (ids twice,
 * names that do not exist, open or crossing loops, unequal radii, frames that are not right-handed, edges off
 * their marks). `file` is only named in diagnostics. Never throws.
 */
export function readMaster(text: string, file?: string): Outcome<Master> {
  const inFile = file === undefined ? {} : { file };
  const drawn = DRAWINGS.find(([, begins]) => begins.test(text));
  if (drawn) return fail(drawingForMaster(drawn[0], { ...inFile, line: 1 }));
  const json = readJson(text);
  if ('problem' in json) return fail(malformedJson(json.problem, { ...inFile, line: json.line }));
  const at = (path: readonly PropertyKey[]): Locus => ({
    ...inFile,
    line: json.lineOf(path),
    ...(path.length > 0 ? { path: formatJsonPath(path) } : {}),
    ...partAt(json.value, path),
  });
  const parsed = MasterSchema.safeParse(json.value);
  if (!parsed.success)
    return fail(
      ...parsed.error.issues.map((issue) => wrongValue(issueText(issue as SchemaIssue), at(issue.path))),
    );
  return settle(parsed.data, checkMaster(parsed.data, at));
}
