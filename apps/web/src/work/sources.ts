import type { SourceReader } from '@haunch/job';
import type { WireDocument } from './wire.js';

/** The file name of a job in this page; messages name it so. */
export const JOB_FILE = 'job.json';

/** Files of a job that have been read, by what holds them. */
const read = new Map<string, Uint8Array>();
let readFor = '';

/** Reads the files beside a job that pass the test, once for every state. */
export async function sourcesOf(
  { id, sources }: WireDocument,
  wanted: (name: string) => boolean = () => true,
): Promise<SourceReader> {
  if (readFor !== id) {
    read.clear();
    readFor = id;
  }
  for (const [name, content] of Object.entries(sources))
    if (wanted(name) && !read.has(name)) read.set(name, new Uint8Array(await content.arrayBuffer()));
  return (name) => read.get(name);
}
