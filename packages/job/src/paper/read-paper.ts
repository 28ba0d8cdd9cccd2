import { fail, type Outcome, ok, readJson } from '@haunch/model';
import { z } from 'zod';
import { JobPaperSchema } from '../job-paper-schema.js';
import { ReportSchema } from '../report-schema.js';
import { notPaperData } from './diagnostics.js';
import type { PaperData } from './paper-data.js';

/** Enough of the file to know that this version wrote it; what it holds was written by machine, and is not judged again. */
const PaperSchema = z.looseObject({
  format: z.literal('haunch-paper'),
  version: z.literal(2),
  paper: JobPaperSchema,
  report: ReportSchema,
  sides: z.array(
    z.looseObject({ board: z.string(), items: z.array(z.unknown()), steps: z.array(z.unknown()) }),
  ),
  pieces: z.array(z.looseObject({ master: z.looseObject({ parts: z.array(z.unknown()) }) })),
  cutters: z.array(z.unknown()),
});

/** Reads the data that paper is made from, as `paperFiles` wrote it; fails with a sentence where this version did not. */
export function readPaperData(text: string, file: string): Outcome<PaperData> {
  const json = readJson(text);
  if ('problem' in json) return fail(notPaperData(file, json.problem));
  const read = PaperSchema.safeParse(json.value);
  if (read.success) return ok(json.value as PaperData);
  const [issue] = read.error.issues;
  return fail(notPaperData(file, `${issue?.path.join('.') ?? ''} is not as this version writes it`.trim()));
}
