import type { Diagnostic } from '@haunch/model';
import { labelsTooSmall } from './diagnostics.js';
import { type LabelSheet, LEAST_LABEL, labelSize } from './label-grid.js';
import type { PageName } from './sheet/page-size.js';

/** Says where labels would be too small on a page, which may be another than the job's. */
export function labelProblems({
  page,
  labels,
}: {
  readonly page: PageName;
  readonly labels: LabelSheet;
}): Diagnostic[] {
  const [w, h] = labelSize(page, labels);
  if (w >= LEAST_LABEL[0] && h >= LEAST_LABEL[1]) return [];
  return [labelsTooSmall(`${labels.columns} × ${labels.rows} on ${page}`, [w, h], LEAST_LABEL)];
}
