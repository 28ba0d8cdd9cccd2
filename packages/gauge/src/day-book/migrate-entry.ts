import { z } from 'zod';

const text = z.string().min(1);
const common = { v: z.literal(1), when: z.iso.datetime({ offset: true }), note: z.string().optional() };

/** Version 1: a program was written; how far one cutter runs in it. metres. */
const CutEntryV1Schema = z.strictObject({
  ...common,
  kind: z.literal('cut'),
  job: text,
  board: text,
  cutter: text,
  metres: z.number().min(0),
});
/** Version 1: how a joint felt, without the make that it belongs to. mm. */
const FeltEntryV1Schema = z.strictObject({
  ...common,
  kind: z.literal('felt'),
  job: text,
  joint: text,
  stock: text,
  foretold: z.number(),
  felt: z.enum(['tight', 'right', 'loose']),
});
const OLD = { cut: CutEntryV1Schema, felt: FeltEntryV1Schema } as const;

/**
 * A line of version 1 as version 2 has it, or what is wrong with it as version 1; anything else as it is. Metres of version 1 were
 * entered when a program was written; they are taken as cut, which makes a ladder due too early rather than too late.
 */
export function migrateEntry(value: unknown): { readonly entry: unknown } | { readonly error: z.ZodError } {
  if (typeof value !== 'object' || value === null || !('v' in value) || value.v !== 1)
    return { entry: value };
  const kind = 'kind' in value ? value.kind : undefined;
  if (kind !== 'cut' && kind !== 'felt') return { entry: { ...value, v: 2 } };
  const old = OLD[kind].safeParse(value);
  if (!old.success) return { error: old.error };
  if (old.data.kind === 'felt') return { entry: { ...old.data, v: 2, make: null } };
  const { cutter, metres, ...rest } = old.data;
  return { entry: { ...rest, v: 2, program: null, times: 1, runs: [{ cutter, metres }] } };
}
