import type { CursorEnd, GroupSource } from './group-source.js';
import { parseNumber } from './parse-number.js';
import type { TextDecoding } from './text-decoding.js';

/** How the first line of a binary DXF closes. */
const CLOSING = [...' Binary DXF\r\n\u001a\0'].map((c) => c.charCodeAt(0));
/** Within so many bytes the first line is over. */
const HEAD = 64;

/** Where the groups of a binary DXF begin, or null where the bytes do not begin as one. */
export function binaryStart(bytes: Uint8Array): number | null {
  const most = Math.min(bytes.length, HEAD) - CLOSING.length;
  for (let i = 0; i <= most; i++) if (CLOSING.every((c, k) => bytes[i + k] === c)) return i + CLOSING.length;
  return null;
}

type ValueKind = 'text' | 'double' | 'int16' | 'int32' | 'int64' | 'byte' | 'chunk';

/** First and last group code of each stretch with its kind of value (DXF reference, "group code value types"). */
const KINDS: readonly (readonly [number, number, ValueKind])[] = [
  [0, 9, 'text'],
  [10, 59, 'double'],
  [60, 79, 'int16'],
  [90, 99, 'int32'],
  [100, 105, 'text'],
  [110, 149, 'double'],
  [160, 169, 'int64'],
  [170, 179, 'int16'],
  [210, 239, 'double'],
  [270, 289, 'int16'],
  [290, 299, 'byte'],
  [300, 309, 'text'],
  [310, 319, 'chunk'],
  [320, 369, 'text'],
  [370, 389, 'int16'],
  [390, 399, 'text'],
  [400, 409, 'int16'],
  [410, 419, 'text'],
  [420, 429, 'int32'],
  [430, 439, 'text'],
  [440, 459, 'int32'],
  [460, 469, 'double'],
  [470, 481, 'text'],
  [999, 1003, 'text'],
  [1004, 1004, 'chunk'],
  [1005, 1009, 'text'],
  [1010, 1059, 'double'],
  [1060, 1070, 'int16'],
  [1071, 1071, 'int32'],
];
const KIND_OF = new Map<number, ValueKind>(
  KINDS.flatMap(([first, last, kind]) =>
    Array.from({ length: last - first + 1 }, (_, k): [number, ValueKind] => [first + k, kind]),
  ),
);
const SIZE = { double: 8, int16: 2, int32: 4, int64: 8, byte: 1 } as const;

/** In files of one-byte group codes this byte says that the code is in the next two. */
const LONG_CODE = 255;

/**
 * The groups of a binary DXF (DXF reference, "binary DXF files"): little-endian values behind group codes of one
 * byte (up to R12) or two (from R13 on), which the first group tells apart.
 */
export class BinaryCursor implements GroupSource {
  code = -1;
  line = 0;
  from = 0;
  to = 0;
  end: CursorEnd | null = null;
  badCode = '';
  #at: number;
  #groups = 0;
  readonly #view: DataView;
  readonly #wide: boolean;

  constructor(
    readonly bytes: Uint8Array,
    start: number,
    private readonly decoding: TextDecoding,
  ) {
    this.#at = start;
    this.#view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
    // The first group is a record (0) or a comment (999 = 0x03E7); of one byte they are 0 or 255.
    const [a, b] = [bytes[start], bytes[start + 1]];
    this.#wide = (a === 0 && b === 0) || (a === 0xe7 && b === 3);
  }

  get linesRead(): number {
    return 2 * this.#groups;
  }

  next(): boolean {
    if (this.end !== null) return false;
    const { bytes } = this;
    if (this.#at >= bytes.length) return this.#stop('text ended');
    const code = this.#takeCode();
    if (code === null) return this.#stop('cut in a group');
    this.line = 2 * this.#groups + 1;
    const kind = KIND_OF.get(code);
    if (kind === undefined) {
      this.badCode = `${code} at byte ${this.#at}`;
      return this.#stop('bad group code');
    }
    this.from = this.#at;
    if (kind === 'text') {
      const stop = bytes.indexOf(0, this.#at);
      if (stop < 0) return this.#stop('cut in a group');
      this.to = stop;
      this.#at = stop + 1;
    } else {
      if (kind === 'chunk') this.from++;
      const size = kind === 'chunk' ? (bytes[this.#at] ?? 0) : SIZE[kind];
      if (this.from + size > bytes.length) return this.#stop('cut in a group');
      this.to = this.from + size;
      this.#at = this.to;
    }
    this.code = code;
    this.#groups++;
    return true;
  }

  text(code: number, from: number, to: number): string {
    const kind = KIND_OF.get(code);
    if (kind === 'text') return this.decoding.decode(this.bytes, from, to);
    return kind === 'chunk' ? '' : String(this.number(code, from, to));
  }

  number(code: number, from: number, to: number): number {
    switch (KIND_OF.get(code)) {
      case 'double':
        return this.#view.getFloat64(from, true) + 0;
      case 'int16':
        return this.#view.getInt16(from, true);
      case 'int32':
        return this.#view.getInt32(from, true);
      case 'int64':
        return Number(this.#view.getBigInt64(from, true));
      case 'byte':
        return this.bytes[from]!;
      case 'text':
        return parseNumber(this.bytes, from, to);
      default:
        return Number.NaN;
    }
  }

  #takeCode(): number | null {
    const short = this.bytes[this.#at]!;
    const wide = this.#wide || short === LONG_CODE;
    const start = this.#wide ? this.#at : this.#at + 1;
    if (!wide) {
      this.#at++;
      return short;
    }
    if (start + 2 > this.bytes.length) return null;
    this.#at = start + 2;
    return this.#view.getUint16(start, true);
  }

  #stop(end: CursorEnd): false {
    this.end = end;
    return false;
  }
}
