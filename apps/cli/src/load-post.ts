import { createRequire as requireFrom } from 'node:module';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { POSTS, type PostFactory } from '@haunch/job';
import { UsageError } from './exit.js';

/** The post that a job names; undefined when its text does not say, which the job's reader reports. */
function postNamed(text: string): string | undefined {
  try {
    const { machine } = JSON.parse(text) as { machine?: { post?: unknown } };
    return typeof machine?.post === 'string' ? machine.post : undefined;
  } catch {
    return undefined;
  }
}

/** Why what a package gave is no post-processor of contract 1. */
function faultOf(post: unknown): string | undefined {
  if (typeof post !== 'object' || post === null) return 'it gives no object';
  const p = post as Record<string, unknown>;
  if (p.contract !== 1) return `it is of contract ${String(p.contract)}; 1 is known here`;
  if (typeof p.name !== 'string') return 'it has no name';
  if (typeof p.dialect !== 'object' || p.dialect === null) return 'it has no dialect';
  const missing = ['start', 'move', 'end'].find((f) => typeof p[f] !== 'function');
  return missing === undefined ? undefined : `it has no function ${missing}`;
}

/**
 * The post-processors for a job: the project's own, and where the job names another, that of the package found from the job's
 * folder. The package exports `post(options)`, which makes a post-processor or throws with a sentence.
 * @throws UsageError when the package is not there or is no post-processor.
 */
export async function postsFor(
  text: string,
  jobFile: string,
): Promise<Readonly<Record<string, PostFactory>>> {
  const name = postNamed(text);
  if (name === undefined || Object.hasOwn(POSTS, name)) return POSTS;
  let made: unknown;
  try {
    const found = requireFrom(pathToFileURL(join(resolve(jobFile), '..', 'x.js'))).resolve(name);
    made = ((await import(pathToFileURL(found).href)) as Record<string, unknown>).post;
  } catch (e) {
    throw new UsageError(
      `the post-processor '${name}' cannot be loaded: ${(e as Error).message.split('\n')[0]}; the project's own are ${Object.keys(POSTS).sort().join(', ')}`,
    );
  }
  if (typeof made !== 'function')
    throw new UsageError(`the package '${name}' exports no function post(options)`);
  const factory = made as (options: Readonly<Record<string, unknown>>) => unknown;
  return {
    ...POSTS,
    [name]: (options) => {
      try {
        const post = factory(options);
        const fault = faultOf(post);
        return fault === undefined ? (post as ReturnType<PostFactory>) : { problem: fault };
      } catch (e) {
        return { problem: (e as Error).message };
      }
    },
  };
}
