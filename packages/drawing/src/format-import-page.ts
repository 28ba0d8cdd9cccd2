import { familyLines, repairLine, repairsByKind } from './format-import-report.js';
import { formatSvg } from './format-svg.js';
import type { DrawingImport } from './import-drawing.js';
import { REPAIR_KINDS } from './parts/repair.js';
import type { Picture } from './picture.js';
import { xmlText as html } from './svg/xml-text.js';

/** So many repairs of one kind are listed on a page; the text report has them all. */
const LISTED = 200;

const STYLE = `:root{color-scheme:light dark}body{margin:0 auto;max-width:80rem;padding:1.5rem;font:16px/1.5 system-ui,sans-serif;background:#faf7f1;color:#23211c}
h1{font-size:1.5rem}h2{font-size:1.15rem;margin-top:2rem}figure{margin:1rem 0;border:1px solid #d8d0c0;padding:.5rem}figure svg{width:100%;height:auto;display:block}
.pair{display:grid;grid-template-columns:repeat(auto-fit,minmax(26rem,1fr));gap:1rem}summary{cursor:pointer}code{overflow-wrap:anywhere}.error{color:#a3341f}
@media (prefers-color-scheme:dark){body{background:#1d1b17;color:#ece6d9}.error{color:#f0957f}}`;

const list = (items: readonly string[], none: string): string =>
  items.length === 0 ? `<p>${none}</p>` : `<ul>${items.map((i) => `<li>${i}</li>`).join('\n')}</ul>`;

/**
 * The import report as one HTML page without scripts: the drawing before and after, what was found, what was not
 * understood, what was left out, and what was repaired. All text is escaped. Same import, same bytes.
 */
export function formatImportPage(
  read: DrawingImport,
  pictures: { readonly before: Picture | null; readonly after: Picture | null },
): string {
  const figure = (picture: Picture | null, prefix: string, words: string): string =>
    picture === null
      ? ''
      : `<figure>${formatSvg(picture, { prefix })}<figcaption>${words}</figcaption></figure>`;
  const lines = (entities: readonly { readonly line: number }[]): string =>
    [...new Set(entities.map((e) => e.line))].slice(0, 6).join(', ');
  const number = (v: number): string => String(Number(v.toFixed(3)) + 0);
  return `<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width"><title>${html(read.file)}: import report</title><style>${STYLE}</style></head><body>
<h1>${html(read.file)}</h1>
<p>${read.parts.length} parts, ${read.repairs.length} repairs, ${read.unclear.length} contours not understood. Unit: ${html(read.unit.name)}. ${html(read.unit.reason)}</p>
${list(
  read.diagnostics.map(
    (d) => `<span class="${d.level}">${d.level}</span>: ${html(d.message)} ${html(d.hint)}`,
  ),
  'There is nothing to say.',
)}
<div class="pair">
${figure(pictures.before, 'before', 'Before: as drawn.')}
${figure(pictures.after, 'after', 'After: as read. Point at a mark for the name of its repair.')}
</div>
<h2>Parts</h2>
${list(familyLines(read).map(html), 'None.')}
<h2>Not understood</h2>
${list(
  read.unclear.map(
    (u) => `${html(u.code)} at (${number(u.at.x)}, ${number(u.at.y)}), lines ${lines(u.entities)}`,
  ),
  'Nothing.',
)}
<h2>Left out</h2>
${list(
  read.leftOut.map(
    (l) => `${html(l.why)}: ${l.entities.length} on layer ‘${html(l.layer)}’, lines ${lines(l.entities)}`,
  ),
  'Nothing.',
)}
<h2>Repaired</h2>
<p>Any repair is undone by its name: <code>keep</code> what was drawn.</p>
${repairsByKind(read.repairs)
  .map(
    ({ kind, repairs, most }) =>
      `<details><summary>${html(REPAIR_KINDS[kind])}: ${repairs.length}, by at most ${number(most)} mm</summary>${list(
        [
          ...repairs.slice(0, LISTED).map((r) => `<code>${html(repairLine(r))}</code>`),
          ...(repairs.length > LISTED ? [`and ${repairs.length - LISTED} more`] : []),
        ],
        'None.',
      )}</details>`,
  )
  .join('\n')}
</body></html>
`;
}
