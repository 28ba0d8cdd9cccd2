import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { Plugin } from 'vite';

const folder = new URL('..', import.meta.url);
const KEEPER = fileURLToPath(new URL('src/offline/keeper.js', folder));

/** What the bundler did not write but copies: the files of `public`. */
const copied = (): string[] => readdirSync(new URL('public', folder)).sort();

/**
 * Writes the service worker with the list of all files of the page, so that it works without a network once it was open.
 * Its version is the hash of every file's content: same files, same worker, to the byte.
 */
export const offline = (): Plugin => ({
  name: 'offline',
  apply: 'build',
  enforce: 'post',
  generateBundle(_, bundle) {
    const hash = createHash('sha256');
    const files: string[] = [];
    for (const [name, item] of Object.entries(bundle).sort(([a], [b]) => (a < b ? -1 : 1))) {
      if (name.endsWith('.map')) continue;
      files.push(name);
      hash.update(name).update(item.type === 'chunk' ? item.code : item.source);
    }
    for (const name of copied()) {
      files.push(name);
      hash.update(name).update(readFileSync(new URL(`public/${name}`, folder)));
    }
    const text = readFileSync(KEEPER, 'utf8')
      .replace("'@version'", JSON.stringify(hash.digest('hex').slice(0, 16)))
      .replace("['@files']", JSON.stringify(files));
    this.emitFile({ type: 'asset', fileName: 'keeper.js', source: text });
  },
});
