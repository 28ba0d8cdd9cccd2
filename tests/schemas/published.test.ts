import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { JobSchema, ProveResultSchema, ReadResultSchema, ReportSchema } from '@haunch/job';
import { MasterSchema } from '@haunch/model';
import { expect, it } from 'vitest';
import { z } from 'zod';
import { ROOT } from '../architecture/source-file.js';

const SCHEMAS = {
  job: JobSchema,
  master: MasterSchema,
  report: ReportSchema,
  read: ReadResultSchema,
  proof: ProveResultSchema,
};

// `HAUNCH_PUBLISH=1 npm test -- tests/schemas` writes them anew after a deliberate change.
it.each(Object.entries(SCHEMAS))('the published %s schema is the one that is enforced', (name, schema) => {
  const path = join(ROOT, 'docs/schemas', `${name}.schema.json`);
  const now = `${JSON.stringify(z.toJSONSchema(schema, { io: 'input', unrepresentable: 'any' }), null, 1)}\n`;
  if (process.env.HAUNCH_PUBLISH) writeFileSync(path, now);
  expect(readFileSync(path, 'utf8')).toBe(now);
});
