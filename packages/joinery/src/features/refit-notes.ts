import type { Diagnostic, FeatureTable, Locus } from '@haunch/model';
import { nothingToRefit, partsNotChecked } from './diagnostics.js';

const place = (file: string | undefined): Locus => (file === undefined ? {} : { file });

/** The refusal to refit by a table of which nothing follows a thickness; null where something does. */
export const nothingFollowsIn = (table: FeatureTable, file?: string): Diagnostic | null =>
  table.features.some((f) => f.follows)
    ? null
    : nothingToRefit(table.thicknesses, table.features.length, place(file));

/** What a refit by features leaves open: of several parts, whether they still fit each other; nothing for one part. */
export const refitNotes = (parts: number, file?: string): Diagnostic[] =>
  parts > 1 ? [partsNotChecked(parts, place(file))] : [];
