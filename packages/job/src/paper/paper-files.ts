import type { Clip } from '@haunch/geometry';
import { assemblySheetPdf } from './assembly-sheet.js';
import { listsCsv, listsOf } from './lists.js';
import { listsPdfs } from './lists-sheet.js';
import type { PaperData } from './paper-data.js';
import type { OutlineFont } from './pdf/outline-font.js';
import { setupSheetPdf } from './setup-sheet.js';
import { ticketsPdf } from './tickets.js';

/** The kinds of paper that a job has, in the order in which they are used. */
export const PAPER_KINDS = ['setup', 'unload', 'tickets', 'assembly', 'parts', 'quote'] as const;
/** A kind of paper. */
export type PaperKind = (typeof PAPER_KINDS)[number];

/** The folder for paper, below that of the job's other files. */
export const PAPER_FOLDER = 'paper';
/** The data that paper is made from, by which it can be printed again without making the job anew. */
export const PAPER_DATA_FILE = `${PAPER_FOLDER}/paper.json`;

const FILES: Readonly<Record<PaperKind, readonly string[]>> = {
  setup: ['setup.pdf'],
  unload: ['unload.pdf'],
  tickets: ['tickets.pdf'],
  assembly: ['assembly.pdf'],
  parts: ['parts.pdf', 'parts.csv', 'cut-list.csv'],
  quote: ['quote.pdf', 'quote.csv'],
};

/** Every file that paper may consist of, below the job's folder. */
export const PAPER_FILES: readonly string[] = [
  PAPER_DATA_FILE,
  `${PAPER_FOLDER}/lists.json`,
  ...Object.values(FILES)
    .flat()
    .map((f) => `${PAPER_FOLDER}/${f}`),
];

/** How paper is made. */
export interface PaperOptions {
  /** The kinds that are wanted; all if nothing is said. */
  readonly only?: readonly PaperKind[];
  /** A font for letters that the standard fonts of PDF have not; they stand as their code points in brackets without it. */
  readonly outline?: OutlineFont;
}

/**
 * The paper of a made job: PDFs, lists as CSV and JSON, and the data to print it again, by their paths below the job's folder. Same data and
 * options: same bytes.
 */
export async function paperFiles(
  data: PaperData,
  clip: Clip,
  { only = PAPER_KINDS, outline }: PaperOptions = {},
): Promise<ReadonlyMap<string, string | Uint8Array>> {
  const wanted = new Set(only);
  const options = outline === undefined ? {} : { outline };
  const files = new Map<string, string | Uint8Array>();
  const put = (name: string, content: string | Uint8Array): void =>
    void files.set(`${PAPER_FOLDER}/${name}`, content);
  if (wanted.has('setup')) put('setup.pdf', await setupSheetPdf(data, options));
  if (wanted.has('tickets')) put('tickets.pdf', await ticketsPdf(data, options));
  if (wanted.has('assembly')) put('assembly.pdf', await assemblySheetPdf(data, clip, options));
  const lists = listsOf(data);
  const all = new Map<string, string | Uint8Array>([
    ...(await listsPdfs(data, options, lists)),
    ...listsCsv(lists),
  ]);
  for (const kind of ['unload', 'parts', 'quote'] as const)
    if (wanted.has(kind)) for (const name of FILES[kind]) if (all.has(name)) put(name, all.get(name)!);
  if (wanted.has('parts') || wanted.has('quote')) put('lists.json', `${JSON.stringify(lists, null, 1)}\n`);
  files.set(PAPER_DATA_FILE, `${JSON.stringify(data)}\n`);
  return files;
}
