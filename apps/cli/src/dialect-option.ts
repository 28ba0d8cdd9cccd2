import { POSTS } from '@haunch/job';
import type { DialectMeaning } from '@haunch/model';
import { UsageError } from './exit.js';
import { postsFor } from './load-post.js';

/** A number, a truth value or text. */
const wordOf = (text: string): unknown =>
  text === 'true'
    ? true
    : text === 'false'
      ? false
      : text !== '' && Number.isFinite(Number(text))
        ? Number(text)
        : text;

/**
 * The dialect of `--dialect`: `rs274ngc`, `iso6983`, `linear` or a package of a post-processor, with its options after commas,
 * as `iso6983,centres=absolute`; packages are found from the program's folder.
 * @throws UsageError with a plain sentence.
 */
export async function dialectOption(
  text: string,
  program: string,
): Promise<{ readonly name: string; readonly meaning?: DialectMeaning }> {
  const [short = '', ...said] = text.split(',');
  const own = `@haunch/post-${short}`;
  const name = Object.hasOwn(POSTS, own) ? own : short;
  const options = Object.fromEntries(
    said.map((s) => {
      const at = s.indexOf('=');
      if (at < 1) throw new UsageError(`--dialect: '${s}' is not OPTION=VALUE, such as centres=absolute`);
      return [s.slice(0, at).trim(), wordOf(s.slice(at + 1).trim())];
    }),
  );
  const posts = await postsFor(JSON.stringify({ machine: { post: name } }), program, '--dialect');
  const post = posts[name]!(options);
  if ('problem' in post) throw new UsageError(`--dialect ${short}: ${post.problem}`);
  const { meaning } = post.dialect;
  return { name: short, ...(meaning === undefined ? {} : { meaning }) };
}
