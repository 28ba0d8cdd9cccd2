import type { PostProcessor } from '@haunch/model';
import { applyRules, casesOf, type KitCase, type KitReport, type KitRule } from '../kit.js';
import { MOTION_RULES } from './motion-rules.js';
import { type TriedPost, tryPost } from './post-trial.js';
import { readsMotion, TEXT_RULES } from './text-rules.js';
import { WORD_RULES } from './word-rules.js';

const READS: KitRule<TriedPost> = {
  id: 'T26',
  title: 'something of the samples is read back',
  why: 'where nothing could be written, no other rule has been tried',
  check: (t) => (readsMotion(t) ? [] : ['no motion could be read from any sample']),
};

/** The rules of the kit for post-processors, in the order of their numbers. */
export const POST_RULES: readonly KitRule<TriedPost>[] = [
  ...TEXT_RULES,
  ...MOTION_RULES,
  ...WORD_RULES,
  READS,
].sort((a, b) => (a.id < b.id ? -1 : a.id > b.id ? 1 : 0));

/**
 * Writes the kit's toolpaths with a post-processor, reads the texts back by the reader that shares nothing with the
 * writing, and applies every rule. Never throws, whatever the post does. The same post gives the same report.
 * @see NISTIR 6556, The NIST RS274/NGC Interpreter, Version 3 (2000), for the language and the agreement of radii
 */
export const checkPost = (post: PostProcessor): KitReport => applyRules(POST_RULES, post.name, tryPost(post));

/**
 * The same as one test for each rule, for any test runner:
 * `for (const c of postCases(post)) it(c.name, c.run)`.
 */
export const postCases = (post: PostProcessor): readonly KitCase[] =>
  casesOf(POST_RULES, () => tryPost(post));
