import type { Move, Place, PostProcessor } from '@haunch/model';
import { type NcMotion, type NcReading, readProgram } from '@haunch/nc/read';
import { writeProgram } from '@haunch/nc/write';
import { deepFreeze } from '../deep-freeze.js';
import { SAMPLES, type SampleToolpath } from './sample-toolpaths.js';

/** One sample written with a post and read back. */
export interface PostTrial {
  readonly sample: SampleToolpath;
  readonly text: string;
  readonly lines: readonly string[];
  readonly reading: NcReading;
  /** The move of the toolpath that each line belongs to; null for blocks of the start and the end. */
  readonly lineMoves: readonly (number | null)[];
  /** The motions that were read, by the move that they belong to. */
  readonly motions: ReadonlyMap<number, readonly NcMotion[]>;
}

/** A post with all samples tried. */
export interface TriedPost {
  /** As it was handed in. */
  readonly subject: PostProcessor;
  /** The same behind a guard that freezes what it is given. */
  readonly post: PostProcessor;
  readonly trials: readonly PostTrial[];
  /** Samples that could not be written, and why. */
  readonly refused: readonly { readonly sample: string; readonly why: string }[];
  /** Half of a step of the written words is what rounding may cost, mm. */
  readonly step: number;
}

export const isMotion = (m: NcReading['moves'][number]): m is NcMotion =>
  m.kind === 'rapid' || m.kind === 'linear' || m.kind === 'arc';

/** A move that goes somewhere. */
export type Travel = Extract<Move, { readonly to: Place }>;
export const isTravel = (m: Move | undefined): m is Travel => m !== undefined && 'to' in m;

/** The text of a program as it is read in the post's own dialect. */
export const readIn = (post: PostProcessor, text: string): NcReading =>
  readProgram(text, post.dialect.meaning === undefined ? {} : { meaning: post.dialect.meaning });

/** A line without its comment. */
export function wordsOf(post: PostProcessor, line: string): string {
  const { comments } = post.dialect;
  if (!comments) return line;
  const open = line.indexOf(comments.open);
  return open < 0 ? line : line.slice(0, open);
}

/** Writes a sample; answers with the reason where the post could not. */
export function writeSample(
  post: PostProcessor,
  { toolpath, title }: SampleToolpath,
): { readonly text: string; readonly lineMoves: readonly (number | null)[] } | { readonly why: string } {
  try {
    const written = writeProgram(toolpath, post, { title });
    return written.ok ? written.value : { why: written.diagnostics.map((d) => d.message).join('; ') };
  } catch (e) {
    return { why: e instanceof Error ? `${e.name}: ${e.message}` : String(e) };
  }
}

/** The post with all that it is given frozen, so that one which writes to it throws. */
function guarded(post: PostProcessor): PostProcessor {
  const dialect = typeof post.dialect === 'object' ? deepFreeze(structuredClone(post.dialect)) : post.dialect;
  return {
    name: post.name,
    contract: post.contract,
    dialect,
    start: (context) => post.start(deepFreeze(context)),
    move: (move, state, context) => post.move(deepFreeze(move), deepFreeze(state), deepFreeze(context)),
    end: (state, context) => post.end(deepFreeze(state), deepFreeze(context)),
  };
}

/** Writes every sample with a post and reads it back. Never throws, whatever the post does. */
export function tryPost(subject: PostProcessor): TriedPost {
  const post = guarded(subject);
  const trials: PostTrial[] = [];
  const refused: { sample: string; why: string }[] = [];
  for (const sample of SAMPLES) {
    const written = writeSample(post, sample);
    if ('why' in written) {
      refused.push({ sample: sample.name, why: written.why });
      continue;
    }
    const reading = readIn(post, written.text);
    const motions = new Map<number, NcMotion[]>();
    const cycles = post.dialect?.drilling === 'cycles';
    let before: NcMotion | undefined;
    for (const m of reading.moves) {
      const here = isMotion(m) ? written.lineMoves[m.line - 1] : null;
      if (!isMotion(m) || here === null || here === undefined) continue;
      // A canned cycle comes up again by itself: that way is the sample's next move.
      const up = cycles && m.kind === 'rapid' && before?.kind === 'linear' && before.line === m.line;
      const move = up ? sample.toolpath.moves.findIndex((n, i) => i > here && isTravel(n)) : here;
      before = m;
      const list = motions.get(move);
      if (list) list.push(m);
      else motions.set(move, [m]);
    }
    trials.push({
      sample,
      text: written.text,
      lines: written.text.split('\n').slice(0, -1),
      reading,
      lineMoves: written.lineMoves,
      motions,
    });
  }
  const unit = post.dialect?.unit === 'inch' ? 25.4 : 1;
  return { subject, post, trials, refused, step: unit / 10 ** (post.dialect?.decimals ?? 0) };
}
