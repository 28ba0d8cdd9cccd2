import { importFile, JobSchema } from '@haunch/job';
import { readMaster } from '@haunch/joinery';
import { type Diagnostic, formatJsonPath, issueText, readJson, type SchemaIssue } from '@haunch/model';
import type { Opened } from './opened.js';
import { readZip } from './zip.js';

/** A file as it was dropped or chosen. */
interface Dropped {
  readonly name: string;
  readonly content: Blob;
}

const base = (path: string): string => path.split(/[\\/]/).at(-1)!;
const refuse = (...problems: readonly Opened.Problem[]): Opened => ({ kind: 'refused', problems });

/** What is in archives, and the other files as they are. */
async function unpacked(files: readonly Dropped[]): Promise<Dropped[] | Opened> {
  const out: Dropped[] = [];
  for (const f of files) {
    if (!/\.zip$/i.test(f.name)) {
      out.push(f);
      continue;
    }
    try {
      const inside = await readZip(new Uint8Array(await f.content.arrayBuffer()));
      for (const [path, bytes] of inside) out.push({ name: base(path), content: new Blob([bytes]) });
    } catch (e) {
      if (!(e instanceof RangeError)) throw e;
      return refuse({ file: f.name, what: 'archive' });
    }
  }
  return out;
}

/** What a JSON file says it is; undefined where it says nothing that is known here. */
function formatOf(text: string): string | undefined {
  const json = readJson(text);
  if ('problem' in json) return undefined;
  const { format } = (json.value ?? {}) as { format?: unknown };
  return typeof format === 'string' ? format : undefined;
}

function jobProblems(text: string, file: string): Opened.Problem[] {
  const json = readJson(text);
  if ('problem' in json) return [{ file, what: 'said', text: json.problem, line: json.line }];
  const parsed = JobSchema.safeParse(json.value);
  return parsed.success
    ? []
    : parsed.error.issues.map((i) => ({
        file,
        what: 'said' as const,
        text: `${formatJsonPath(i.path)}: ${issueText(i as SchemaIssue)}`,
        line: json.lineOf(i.path),
      }));
}

const saidBy = (d: Diagnostic, file: string): Opened.Problem => ({
  file,
  what: 'said',
  text: d.message,
  hint: d.hint,
  ...(d.locus.line === undefined ? {} : { line: d.locus.line }),
});

/** Whether a drawing's problem is one that a person can settle once it is open. */
const canBeSaid = (d: Diagnostic): boolean => /unit|thickness|layer/.test(d.code);

async function openSource({ name, content }: Dropped): Promise<Opened> {
  const bytes = new Uint8Array(await content.arrayBuffer());
  if (/\.json$/i.test(name)) {
    const master = readMaster(new TextDecoder().decode(bytes), name);
    if (!master.ok)
      return refuse(...master.diagnostics.filter((d) => d.level === 'error').map((d) => saidBy(d, name)));
    const stocks = [...new Set(master.value.parts.map((p) => p.stock))].sort();
    return { kind: 'source', name, content, title: master.value.title, stocks, drawing: false };
  }
  const imported = importFile(bytes, name);
  const errors = imported.diagnostics.filter((d) => d.level === 'error');
  if (!imported.ok && !errors.every(canBeSaid)) return refuse(...errors.map((d) => saidBy(d, name)));
  return { kind: 'source', name, content, title: name.replace(/\.[^.]*$/, ''), stocks: [], drawing: true };
}

/**
 * Opens what was dropped: a job with the files beside it (or an archive of them), a master, or a drawing. Nothing is opened by halves:
 * it is all there, or there is a sentence for every reason why not.
 */
export async function openFiles(dropped: readonly Dropped[]): Promise<Opened> {
  const files = await unpacked(dropped);
  if (!Array.isArray(files)) return files;
  const json: { file: Dropped; text: string; format: string | undefined }[] = [];
  for (const file of files.filter((f) => /\.json$/i.test(f.name))) {
    const text = await file.content.text();
    json.push({ file, text, format: formatOf(text) });
  }
  const jobs = json.filter((j) => j.format === 'haunch-job');
  if (jobs.length > 1) return refuse({ file: jobs[1]!.file.name, what: 'two jobs' });
  const [job] = jobs;
  if (job) {
    const problems = jobProblems(job.text, job.file.name);
    if (problems.length > 0) return refuse(...problems);
    const sources = Object.fromEntries(files.filter((f) => f !== job.file).map((f) => [f.name, f.content]));
    return { kind: 'job', name: job.file.name, text: job.text, sources };
  }
  const broken = json.find((j) => j.format === undefined);
  if (broken) return refuse(...brokenJson(broken.file.name, broken.text));
  const [source, ...more] = files.filter(
    (f) => /\.(?:dxf|svg)$/i.test(f.name) || json.some((j) => j.file === f && j.format === 'haunch-master'),
  );
  if (!source) return refuse({ file: files[0]?.name ?? '', what: 'unknown kind' });
  if (more.length > 0) return refuse({ file: more[0]!.name, what: 'one at a time' });
  return openSource(source);
}

function brokenJson(file: string, text: string): Opened.Problem[] {
  const json = readJson(text);
  return 'problem' in json
    ? [{ file, what: 'said', text: json.problem, line: json.line }]
    : [{ file, what: 'unknown kind' }];
}
