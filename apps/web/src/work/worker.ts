import * as Comlink from 'comlink';
import { holdLife } from './life-lock.js';
import { recallResult } from './results.js';
import type { Service } from './service.js';
import { writeZip } from './zip.js';

interface Packed {
  readonly path: string;
  readonly bytes: Uint8Array<ArrayBuffer>;
}

const bytesOf = async (content: Blob): Promise<Uint8Array<ArrayBuffer>> =>
  new Uint8Array(await content.arrayBuffer());

const held = holdLife();

// What a call needs is loaded with the first of its kind: a drawing is seen before the code that makes programs is there.
const service: Service = {
  alive: () => held,
  open: async (files) => (await import('./open.js')).openFiles(files),
  check: async (document) => (await import('./check.js')).checkJob(document),
  describe: async (document, piece) => (await import('./describe.js')).describePiece(document, piece),
  findMaster: async (document, piece, said) =>
    (await import('./find.js')).findMasterOf(document, piece, said),
  make: async (document, tell) => (await import('./make.js')).makeDocument(document, tell),
  makeLadder: async (document, board, tell) => (await import('./ladder.js')).ladderOf(document, board, tell),
  feelLadder: async (document, felt) => (await import('./ladder.js')).feltText(document, felt),
  lookInBook: async (document, book) => (await import('./book.js')).lookInBook(document, book),
  enterInBook: async (document, book, event) =>
    (await import('./book.js')).enterInBook(document, book, event),
  async file(document, path) {
    const kept = await recallResult();
    return kept?.result.document === document ? (kept.files[path] ?? null) : null;
  },
  assembly: async (document, piece) => (await import('./assembly.js')).assemblyOf(document, piece),
  assemblyPicture: async (document, piece, step) =>
    (await import('./assembly.js')).assemblyPicture(document, piece, step),
  judge: async (document, placements) => (await import('./lay.js')).judge(document, placements),
  improve: async (document, better) => (await import('./lay.js')).improve(document, better),
  async shown(document, what) {
    const kept = await recallResult(document);
    return kept?.result.document === document ? kept.shown[what] : null;
  },
  paper: async (document) => (await import('./paper.js')).paperPaths(document),
  async archive(document) {
    await (await import('./paper.js')).paperPaths(document);
    const kept = await recallResult(document.id);
    if (kept?.result.document !== document.id) return null;
    const files: Packed[] = [];
    for (const [path, content] of Object.entries(kept.files))
      files.push({ path, bytes: await bytesOf(content) });
    return writeZip(files);
  },
  async pack(files) {
    const out: Packed[] = [];
    for (const { name, content } of files) out.push({ path: name, bytes: await bytesOf(content) });
    return writeZip(out);
  },
  async recall() {
    return (await recallResult())?.result ?? null;
  },
};

Comlink.expose(service);
