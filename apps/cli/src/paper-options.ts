import { type OutlineFont, PAPER_KINDS, type PaperKind, readOutlineFont } from '@haunch/job/paper';
import { type Command, InvalidArgumentError } from 'commander';
import { UsageError } from './exit.js';
import { readInput } from './files.js';

/** What both `make` and `paper` ask about paper. */
export interface PaperChoices {
  readonly page?: 'A4' | 'Letter';
  readonly only?: readonly PaperKind[];
  readonly font?: string;
}

const page = (text: string): 'A4' | 'Letter' => {
  const found = (['A4', 'Letter'] as const).find((p) => p.toLowerCase() === text.toLowerCase());
  if (!found) throw new InvalidArgumentError('give a4 or letter.');
  return found;
};

const kinds = (text: string): PaperKind[] => {
  const names = text
    .split(',')
    .map((t) => t.trim())
    .filter((t) => t !== '');
  const unknown = names.filter((n) => !PAPER_KINDS.includes(n as PaperKind));
  if (unknown.length > 0 || names.length === 0)
    throw new InvalidArgumentError(
      `${unknown.length > 0 ? `there is no paper '${unknown.join("', '")}'; ` : ''}give some of ${PAPER_KINDS.join(', ')}.`,
    );
  return names as PaperKind[];
};

/** Adds the options about paper to a command. */
export const withPaperOptions = (command: Command): Command =>
  command
    .option('--page <page>', 'a4 or letter; as the job says if nothing is said', page)
    .option('--only <kinds>', `paper of these kinds alone: ${PAPER_KINDS.join(',')}`, kinds)
    .option('--font <file>', 'a TrueType font (.ttf) for letters beyond those of western Europe');

/** The font that a command names. @throws UsageError where it is none. */
export function fontOf({ font }: PaperChoices): OutlineFont | undefined {
  if (font === undefined) return undefined;
  const bytes = readInput(font);
  try {
    return readOutlineFont(bytes);
  } catch (e) {
    if (e instanceof RangeError)
      throw new UsageError(
        `${font} is no TrueType font that can be embedded: ${e.message.replace(/^\w+: /, '')}`,
      );
    throw e;
  }
}
