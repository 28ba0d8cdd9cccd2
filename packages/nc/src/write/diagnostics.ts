import { type Diagnostic, diagnosticsOf } from '@haunch/model';

const say = diagnosticsOf('post');

const mm = (v: number): string => String(Math.round(v * 1e6) / 1e6);

export const cutFromUnknown = (board: string, step: string): Diagnostic =>
  say(
    'error',
    'cut-from-unknown-place',
    `Workingstep ${step} begins to cut where the cutter is not known to be.`,
    { board },
    'The first move of a program must be a rapid.',
  );

export const arcEndsApart = (board: string, step: string, start: number, end: number): Diagnostic =>
  say(
    'error',
    'arc-ends-apart',
    `Workingstep ${step} has an arc that starts at radius ${mm(start)} mm and ends at radius ${mm(end)} mm.`,
    { board },
    'Start and end of an arc must be equally far from its centre; correct the toolpath.',
  );

export const feedTooSmall = (board: string, step: string, feed: number, dialect: string): Diagnostic =>
  say(
    'error',
    'feed-too-small',
    `Workingstep ${step} feeds ${mm(feed)} mm/min, which ${dialect} rounds to nothing.`,
    { board },
    'Give a greater feed, or a dialect with more decimals for feeds.',
  );

export const numberTooGreat = (
  board: string,
  step: string | null,
  block: string,
  whole: number,
): Diagnostic =>
  say(
    'error',
    'number-too-great',
    `${step === null ? 'The program' : `Workingstep ${step}`} needs a coordinate of more than ${whole} digits before the point, and the dialect has room for ${whole}: ${block}`,
    { board },
    'Use a dialect with more digits, or one that writes the point.',
  );

export const blockTooLong = (board: string, step: string | null, block: string, limit: number): Diagnostic =>
  say(
    'error',
    'block-too-long',
    `${step === null ? 'The program' : `Workingstep ${step}`} needs a block of ${block.length} characters, and ${limit} are allowed: ${block}`,
    { board },
    'Use a dialect with longer blocks, fewer decimals, or no line numbers.',
  );
