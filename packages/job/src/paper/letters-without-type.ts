import type { Diagnostic } from '@haunch/model';
import { noTypeForLetters } from './diagnostics.js';
import type { PaperData } from './paper-data.js';
import type { OutlineFont } from './pdf/outline-font.js';
import { textRuns } from './pdf/text-runs.js';

/** Says which letters of a job's names have no type on paper; nothing where all have. */
export function lettersWithoutType({ report, pieces }: PaperData, outline?: OutlineFont): Diagnostic[] {
  const names = [
    report.title,
    ...report.parts.flatMap((p) => [p.id, p.name, p.board]),
    ...report.boards.flatMap((b) => [b.material, b.stock, ...b.steps.map((s) => s.feature)]),
    ...report.cutters.map((c) => c.id),
    ...pieces.flatMap(({ master }) => [master.title, ...master.assembly.map((s) => s.text)]),
  ];
  const strange = [...new Set(names.flatMap((n) => textRuns(n, outline).strange))].sort();
  return strange.length === 0 ? [] : [noTypeForLetters(strange, outline !== undefined)];
}
