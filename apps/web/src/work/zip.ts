/** CRC-32 of ISO/IEC 3309 (polynomial 0xEDB88320), as archives have it. */
const TABLE = Uint32Array.from({ length: 256 }, (_, n) => {
  let c = n;
  for (let k = 0; k < 8; k++) c = c & 1 ? 0xedb88320 ^ (c >>> 1) : c >>> 1;
  return c >>> 0;
});

/** The CRC-32 of bytes. */
export function crc32(bytes: Uint8Array): number {
  let c = 0xffffffff;
  for (const b of bytes) c = TABLE[(c ^ b) & 0xff]! ^ (c >>> 8);
  return (c ^ 0xffffffff) >>> 0;
}

/** Midnight of 1 January 1980, the earliest that an archive can say: same files, same bytes. */
const DATE = 0x21;

/** Numbers of two and four bytes, lowest first, one after the other. */
function words(...fields: readonly (readonly [number, 2 | 4])[]): Uint8Array<ArrayBuffer> {
  const out = new Uint8Array(fields.reduce((n, [, size]) => n + size, 0));
  const view = new DataView(out.buffer);
  let at = 0;
  for (const [value, size] of fields) {
    if (size === 2) view.setUint16(at, value, true);
    else view.setUint32(at, value, true);
    at += size;
  }
  return out;
}

/** An archive (ISO/IEC 21320-1) of files as they are, not compressed, in the order given; the same files make the same bytes. */
export function writeZip(
  files: readonly { readonly path: string; readonly bytes: Uint8Array<ArrayBuffer> }[],
): Blob {
  const parts: Uint8Array<ArrayBuffer>[] = [];
  const directory: Uint8Array<ArrayBuffer>[] = [];
  let at = 0;
  for (const { path, bytes } of files) {
    const name = new TextEncoder().encode(path);
    const common: (readonly [number, 2 | 4])[] = [
      [20, 2],
      [0x800, 2],
      [0, 2],
      [0, 2],
      [DATE, 2],
      [crc32(bytes), 4],
      [bytes.length, 4],
      [bytes.length, 4],
      [name.length, 2],
      [0, 2],
    ];
    const head = words([0x04034b50, 4], ...common);
    directory.push(words([0x02014b50, 4], [20, 2], ...common, [0, 2], [0, 2], [0, 2], [0, 4], [at, 4]), name);
    parts.push(head, name, bytes);
    at += head.length + name.length + bytes.length;
  }
  const size = directory.reduce((n, d) => n + d.length, 0);
  const count = files.length;
  const end = words([0x06054b50, 4], [0, 2], [0, 2], [count, 2], [count, 2], [size, 4], [at, 4], [0, 2]);
  return new Blob([...parts, ...directory, end], { type: 'application/zip' });
}

/** More than this is not unpacked: an archive can say little and hold much. */
const LIMIT = 200_000_000;

/** The files of an archive by path, stored or deflated. @throws RangeError where it is no archive, or not whole. */
export async function readZip(
  bytes: Uint8Array<ArrayBuffer>,
): Promise<ReadonlyMap<string, Uint8Array<ArrayBuffer>>> {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  let end = bytes.length - 22;
  while (end >= 0 && view.getUint32(end, true) !== 0x06054b50) end--;
  if (end < 0) throw new RangeError('readZip: no end of an archive');
  const count = view.getUint16(end + 10, true);
  let at = view.getUint32(end + 16, true);
  const out = new Map<string, Uint8Array<ArrayBuffer>>();
  let total = 0;
  for (let i = 0; i < count; i++) {
    if (at + 46 > bytes.length || view.getUint32(at, true) !== 0x02014b50)
      throw new RangeError('readZip: its list is cut off');
    const [method, packed, size] = [
      view.getUint16(at + 10, true),
      view.getUint32(at + 20, true),
      view.getUint32(at + 24, true),
    ];
    const [nameSize, extra, comment] = [
      view.getUint16(at + 28, true),
      view.getUint16(at + 30, true),
      view.getUint16(at + 32, true),
    ];
    const head = view.getUint32(at + 42, true);
    const name = new TextDecoder().decode(bytes.subarray(at + 46, at + 46 + nameSize));
    at += 46 + nameSize + extra + comment;
    if (name.endsWith('/')) continue;
    total += size;
    if (total > LIMIT) throw new RangeError('readZip: it holds too much');
    if (head + 30 > bytes.length) throw new RangeError('readZip: a file of it is cut off');
    const start = head + 30 + view.getUint16(head + 26, true) + view.getUint16(head + 28, true);
    const content = bytes.slice(start, start + packed);
    if (content.length !== packed) throw new RangeError('readZip: a file of it is cut off');
    if (method === 0) out.set(name, content);
    else if (method === 8) out.set(name, await inflate(content, size));
    else throw new RangeError('readZip: a file of it is packed in an unknown way');
  }
  return out;
}

/** @throws RangeError where it unpacks to another size than it says. */
async function inflate(packed: Uint8Array<ArrayBuffer>, size: number): Promise<Uint8Array<ArrayBuffer>> {
  const stream = new Blob([packed]).stream().pipeThrough(new DecompressionStream('deflate-raw'));
  const reader = stream.getReader();
  const out = new Uint8Array(size);
  let at = 0;
  for (;;) {
    const { done, value } = await reader.read().catch(() => {
      throw new RangeError('readZip: a file of it cannot be unpacked');
    });
    if (done) break;
    if (at + value.length > size) throw new RangeError('readZip: a file of it is larger than it says');
    out.set(value, at);
    at += value.length;
  }
  if (at !== size) throw new RangeError('readZip: a file of it is smaller than it says');
  return out;
}
