import type { PostProcessor } from '@haunch/model';
import { iso6983With } from '@haunch/post-iso6983';
import { linearWith } from '@haunch/post-linear';
import { rs274ngcWith } from '@haunch/post-rs274ngc';

/** Makes a post-processor from the job's `postOptions`, or says what is wrong with them. */
export type PostFactory = (
  options: Readonly<Record<string, unknown>>,
) => PostProcessor | { readonly problem: string };

/** A post's refusal of its options, as a sentence. */
function guarded(make: () => PostProcessor): PostProcessor | { readonly problem: string } {
  try {
    return make();
  } catch (e) {
    if (e instanceof RangeError || e instanceof TypeError) return { problem: e.message };
    throw e;
  }
}

/** The project's own post-processors by package name. */
export const POSTS: Readonly<Record<string, PostFactory>> = {
  '@haunch/post-rs274ngc': (options) => guarded(() => rs274ngcWith(options)),
  '@haunch/post-iso6983': (options) => guarded(() => iso6983With(options)),
  '@haunch/post-linear': (options) => guarded(() => linearWith(options)),
};
