import { createRequire as requireFrom } from 'node:module';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { foundPost, POSTS, type PostFactory } from '@haunch/job';
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

/**
 * The post-processors for a job: the project's own, and where the job names another, that of the package found from the job's
 * folder. The package exports `post(options)`, which makes a post-processor or throws with a sentence.
 * `where` says for a refusal who names it.
 * @throws UsageError when the package is not there or is no post-processor.
 */
export async function postsFor(
  text: string,
  jobFile: string,
  where = `${jobFile}, machine.post`,
): Promise<Readonly<Record<string, PostFactory>>> {
  const name = postNamed(text);
  if (name === undefined || Object.hasOwn(POSTS, name)) return POSTS;
  let made: unknown;
  try {
    const found = requireFrom(pathToFileURL(join(resolve(jobFile), '..', 'x.js'))).resolve(name);
    made = ((await import(pathToFileURL(found).href)) as Record<string, unknown>).post;
  } catch (e) {
    throw new UsageError(
      `${where}: the post-processor '${name}' cannot be loaded: ${(e as Error).message.split('\n')[0]}; the project's own are ${Object.keys(POSTS).sort().join(', ')}`,
    );
  }
  if (typeof made !== 'function')
    throw new UsageError(`${where}: the package '${name}' exports no function post(options)`);
  const failed = (problem: string): never => {
    throw new UsageError(`the post-processor '${name}' cannot write this program: ${problem}`);
  };
  return { ...POSTS, [name]: foundPost(made as Parameters<typeof foundPost>[0], failed) };
}
