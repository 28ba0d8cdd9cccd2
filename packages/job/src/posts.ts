import type { PostProcessor } from '@haunch/model';
import { rs274ngcWith } from '@haunch/post-rs274ngc';

/** Makes a post-processor from the job's `postOptions`, or says what is wrong with them. */
export type PostFactory = (
  options: Readonly<Record<string, unknown>>,
) => PostProcessor | { readonly problem: string };

/** The project's own post-processors by package name. */
export const POSTS: Readonly<Record<string, PostFactory>> = {
  '@haunch/post-rs274ngc': (options) => rs274ngcWith(options),
};
