import {
  formatImportPage,
  formatImportReport,
  formatSvg,
  pictureOfDrawing,
  pictureOfImport,
} from '@haunch/drawing';
import type { ImportedDrawing } from '@haunch/job';
import { UsageError } from './exit.js';

/** The files that show what a drawing was read as, by path: pictures before and after, and the import report. */
export function importOutputs(
  { drawing, read }: ImportedDrawing,
  wanted: { readonly picture?: string; readonly report?: string },
): ReadonlyMap<string, string> {
  const files = new Map<string, string>();
  const pictures = { before: pictureOfDrawing(drawing), after: pictureOfImport(read) };
  if (wanted.picture !== undefined) {
    if (!/\.svg$/i.test(wanted.picture))
      throw new UsageError(`${wanted.picture}: pictures are written as .svg`);
    // A drawing of lettering alone has no picture; that it holds no parts is said anyway.
    if (pictures.before !== null)
      files.set(wanted.picture.replace(/\.svg$/i, '.drawn.svg'), formatSvg(pictures.before));
    if (pictures.after !== null) files.set(wanted.picture, formatSvg(pictures.after));
  }
  if (wanted.report !== undefined) {
    const [, ending] = /\.(html|txt|json)$/i.exec(wanted.report) ?? [];
    switch (ending?.toLowerCase()) {
      case 'html':
        files.set(wanted.report, formatImportPage(read, pictures));
        break;
      case 'txt':
        files.set(wanted.report, formatImportReport(read));
        break;
      case 'json':
        files.set(
          wanted.report,
          `${JSON.stringify({ format: 'haunch-import', version: 1, ...read }, null, 1)}\n`,
        );
        break;
      default:
        throw new UsageError(`${wanted.report}: reports are written as .html, .txt or .json`);
    }
  }
  return files;
}
