import { existsSync, readFileSync, statSync } from 'node:fs';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { extname } from 'node:path';
import { fileURLToPath } from 'node:url';
import { gzipSync } from 'node:zlib';

const TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html',
  '.js': 'text/javascript',
  '.css': 'text/css',
  '.json': 'application/json',
  '.svg': 'image/svg+xml',
  '.wasm': 'application/wasm',
  '.webmanifest': 'application/manifest+json',
};

/** The built page, as any folder of static files is served. */
export interface Served {
  readonly url: string;
  /** Compressed size of everything fetched so far, by path; once each. */
  readonly sizes: ReadonlyMap<string, number>;
  readonly close: () => void;
}

/** Serves the built page. @throws RangeError where it is not built */
export async function serveBuiltPage(): Promise<Served> {
  const root = fileURLToPath(new URL('../dist', import.meta.url));
  if (!existsSync(`${root}/index.html`)) throw new RangeError('the page is not built: npm run build');
  const sizes = new Map<string, number>();
  const server = createServer((request, response) => {
    const { pathname } = new URL(request.url ?? '/', 'http://page');
    const path = `${root}${pathname.endsWith('/') ? `${pathname}index.html` : pathname}`;
    if (pathname.includes('..') || !existsSync(path) || !statSync(path).isFile()) {
      response.writeHead(404).end();
      return;
    }
    const content = readFileSync(path);
    if (!sizes.has(pathname)) sizes.set(pathname, gzipSync(content, { level: 9 }).length);
    response
      // As servers do that are open to other origins, the one of `npm run page` among them.
      .writeHead(200, {
        'content-type': TYPES[extname(path)] ?? 'application/octet-stream',
        vary: 'Origin',
      })
      .end(content);
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const { port } = server.address() as AddressInfo;
  return { url: `http://127.0.0.1:${port}/`, sizes, close: () => void server.close() };
}
