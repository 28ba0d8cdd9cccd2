import type { Clip } from '@haunch/geometry';
import {
  type FoundMaster,
  findMaster,
  findMasterAgain,
  findThickness,
  formatMaster,
  readMaster,
  thicknessNotes,
  thicknessUnconfirmed,
} from '@haunch/joinery';
import {
  type Diagnostic,
  fail,
  type Master,
  type MasterPart,
  type Outcome,
  ok,
  readJson,
} from '@haunch/model';
import { z } from 'zod';
import { assemblyPairSvg, assemblySvg } from './assembly-picture/assembly-svg.js';
import { type DescribeOptions, importFile } from './describe-file.js';
import { answersUnread, masterStatesThickness, withThicknessHint } from './diagnostics.js';
import { sayingsOf } from './drawn-thickness.js';

/** What a person has said about a drawing: answers by question, what edges follow, and at which angles (degrees) parts lean. */
export interface SaidOfDrawing {
  readonly answers: Readonly<Record<string, number>>;
  readonly follows: Readonly<Record<string, Readonly<Record<string, number>>>>;
  readonly leans?: Readonly<Record<string, number>>;
}

/** What `haunch mates` is asked for. */
export interface FindMasterRequest extends SaidOfDrawing {
  readonly content: string | Uint8Array;
  /** A drawing (.dxf, .svg), or a master (.json) whose parts are taken as flat, with the answers that it keeps. */
  readonly file: string;
  readonly title?: string;
  /** How a drawing is to be read; its `thickness` is that of parts that state none. mm */
  readonly read?: DescribeOptions;
}

/** A master that was found, with its text; or the questions that stand before it. */
export interface FoundMasterFile extends FoundMaster {
  /** The master as a file; null where there is none yet. */
  readonly text: string | null;
}

const AnswersSchema = z.record(z.string(), z.number().int().positive());

/** Reads answers from a file: those that a found master keeps with what it says by hand, or an object of numbers by question. */
export function readAnswers(text: string, file: string): Outcome<SaidOfDrawing> {
  const json = readJson(text);
  if ('problem' in json) return fail(answersUnread(file, json.problem, json.line));
  const value = json.value as { readonly format?: unknown };
  if (typeof value === 'object' && value !== null && value.format === 'haunch-master') {
    const master = readMaster(text, file);
    if (!master.ok) return master;
    if (!master.value.found) return fail(answersUnread(file, 'the master was not found from a drawing', 1));
    const { answers, follows, leans } = master.value.found;
    return ok({ answers, follows, ...(leans === undefined ? {} : { leans }) });
  }
  const answers = AnswersSchema.safeParse(json.value);
  if (answers.success) return ok({ answers: answers.data, follows: {} });
  const [issue] = answers.error.issues;
  const path = issue?.path ?? [];
  const at =
    path.length > 0 ? `'${String(path[0])}' has no number of a choice` : 'it is no object of numbers';
  return fail(answersUnread(file, at, json.lineOf(path)));
}

/**
 * Finds the master that a drawing of flat parts shows, or finds one again from a master's own parts. A drawing of which
 * nothing states the thickness is not guessed at: the candidates are named. Otherwise as `findMaster`.
 */
export function findMasterFile(request: FindMasterRequest): Outcome<FoundMasterFile> {
  const { content, file, read = {}, answers, follows, leans = {} } = request;
  const said = { answers, follows, leans, ...(request.title === undefined ? {} : { title: request.title }) };
  if (/\.json$/i.test(file)) {
    if (read.thickness !== undefined) return fail(masterStatesThickness(file));
    const text = typeof content === 'string' ? content : new TextDecoder().decode(content);
    const master = readMaster(text, file);
    if (!master.ok) return master;
    return asFile(findMasterAgain(master.value, { from: master.value.found?.from ?? file, ...said }), []);
  }
  const imported = importFile(content, file, read);
  if (!imported.ok) return imported;
  const heard: Diagnostic[] = [...imported.diagnostics, ...imported.value.read.diagnostics];
  if (heard.some((d) => d.level === 'error')) return { ok: false, diagnostics: heard };
  const { parts } = imported.value.read;
  if (parts.some((p) => p.thickness === null)) {
    const finding = findThickness(parts, { said: sayingsOf(imported.value.drawing) });
    return fail(
      ...heard,
      ...thicknessNotes(finding, file),
      withThicknessHint(thicknessUnconfirmed(finding, file)),
    );
  }
  return asFile(findMaster(parts, { from: file, title: titleOf(file), ...said }), heard);
}

const titleOf = (file: string): string => file.replace(/^.*[\\/]/, '').replace(/\.[^.]*$/, '');

function asFile(found: Outcome<FoundMaster>, heard: readonly Diagnostic[]): Outcome<FoundMasterFile> {
  const said = [...heard, ...found.diagnostics];
  if (!found.ok) return { ok: false, diagnostics: said };
  const { master } = found.value;
  return ok({ ...found.value, text: master ? formatMaster(master) : null }, said);
}

/** So many choices of a question are drawn. */
const DRAWN = 12;

const asMaster = (title: string, parts: readonly MasterPart[]): Master => ({
  format: 'haunch-master',
  version: 1,
  title,
  units: 'mm',
  designThickness: parts[0]!.thickness,
  marks: [],
  parts,
  mates: [],
  assembly: [],
});

/**
 * Pictures of what was found, by the name that each is to have beside `name` (which ends in .svg): the master together
 * and apart; or, while questions stand before it, one for each of their first twelve choices: `name.piece-0.2.svg`.
 */
export function picturesOfFound(found: FoundMaster, name: string, clip: Clip): Map<string, string> {
  if (found.master) return new Map([[name, assemblyPairSvg(found.master, clip)]]);
  const out = new Map<string, string>();
  for (const q of found.questions)
    q.standing?.slice(0, DRAWN).forEach((parts, k) => {
      const title = `${q.id}, choice ${k + 1}`;
      out.set(
        name.replace(/\.svg$/i, `.${q.id}.${k + 1}.svg`),
        assemblySvg(asMaster(title, parts), clip, { title }),
      );
    });
  return out;
}
