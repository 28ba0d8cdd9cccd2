import type { PostProcessor } from '@haunch/model';
import { guardedPost, postFault } from '@haunch/nc/write';
import { iso6983With } from '@haunch/post-iso6983';
import { linearWith } from '@haunch/post-linear';
import { rs274ngcWith } from '@haunch/post-rs274ngc';

/** Why there is no post-processor: it refuses its options, or what the package makes is `unfit`, whatever the options. */
export interface PostProblem {
  readonly problem: string;
  readonly unfit?: boolean;
}

/** Makes a post-processor from the job's `postOptions`, or says what is wrong with them, or with it. */
export type PostFactory = (options: Readonly<Record<string, unknown>>) => PostProcessor | PostProblem;

/** A post's refusal of its options, as a sentence. */
function guarded(make: () => PostProcessor): PostProcessor | PostProblem {
  try {
    return make();
  } catch (e) {
    if (e instanceof RangeError || e instanceof TypeError) return { problem: e.message };
    throw e;
  }
}

/**
 * The factory of a package from elsewhere: what it makes is checked (contract, functions, manifest) and kept behind a guard; `failed`, which must
 * throw, is called when it breaks while a program is written.
 */
export function foundPost(
  make: (options: Readonly<Record<string, unknown>>) => unknown,
  failed: (problem: string) => never,
): PostFactory {
  return (options) => {
    let post: unknown;
    try {
      post = make(options);
    } catch (e) {
      const problem = e instanceof Error ? e.message : String(e);
      return Object.keys(options).length > 0 ? { problem } : { problem, unfit: true };
    }
    const problem = postFault(post);
    return problem === null ? guardedPost(post as PostProcessor, failed) : { problem, unfit: true };
  };
}

/** The project's own post-processors by package name. */
export const POSTS: Readonly<Record<string, PostFactory>> = {
  '@haunch/post-rs274ngc': (options) => guarded(() => rs274ngcWith(options)),
  '@haunch/post-iso6983': (options) => guarded(() => iso6983With(options)),
  '@haunch/post-linear': (options) => guarded(() => linearWith(options)),
};
