import { BinaryCursor, binaryStart } from './binary-cursor.js';
import { GroupCursor } from './group-cursor.js';
import type { GroupSource } from './group-source.js';
import { TextDecoding } from './text-decoding.js';

/** The groups of a file, and how its texts are decoded. */
export interface OpenSource {
  readonly groups: GroupSource;
  readonly decoding: TextDecoding;
  /** The first letters, to say what a file is that is no DXF. */
  readonly head: string;
}

/** The same bytes without what a kind of array of its own (a Node buffer) would add: one kind keeps walks fast. */
const plainBytes = (b: Uint8Array): Uint8Array =>
  b.constructor === Uint8Array ? b : new Uint8Array(b.buffer, b.byteOffset, b.byteLength);

/** Opens a DXF in text form (UTF-8, UTF-16 with its mark, or a code page) or binary form. Never throws. */
export function openSource(source: string | Uint8Array): OpenSource {
  let bytes = typeof source === 'string' ? new TextEncoder().encode(source) : plainBytes(source);
  let given = typeof source === 'string';
  const utf16 =
    bytes[0] === 0xff && bytes[1] === 0xfe
      ? 'utf-16le'
      : bytes[0] === 0xfe && bytes[1] === 0xff
        ? 'utf-16be'
        : null;
  if (utf16 !== null) {
    bytes = new TextEncoder().encode(new TextDecoder(utf16).decode(bytes));
    given = true;
  } else if (bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf) bytes = bytes.subarray(3);
  const decoding = new TextDecoding(given);
  const start = binaryStart(bytes);
  const head = new TextDecoder('windows-1252').decode(bytes.subarray(0, 200)).trim();
  const groups = start === null ? new GroupCursor(bytes, decoding) : new BinaryCursor(bytes, start, decoding);
  return { groups, decoding, head };
}
