import type { Sample } from './fuzz-corpus.js';

const POISON = [
  ...[
    'NaN',
    'Infinity',
    '-Infinity',
    '1e400',
    '-1e308',
    '1e308',
    '1e-320',
    '1e9',
    '-1e9',
    '999999999',
    '',
    ' ',
    '0',
    '-0',
    '-1',
  ],
  ...[
    '9999999999',
    '2147483648',
    '-2147483649',
    '65536',
    '32767',
    '.',
    '-',
    'e',
    '1e',
    '0x10',
    '1,5',
    'ü',
    '\u0000',
    '10',
    '20',
    '999999',
  ],
];
const DXF_POISON = [
  ...[
    'SECTION',
    'ENDSEC',
    'EOF',
    'POLYLINE',
    'VERTEX',
    'SEQEND',
    'INSERT',
    'BLOCK',
    'ENDBLK',
    'INNER',
    'OUTER',
    'HATCH',
    'SPLINE',
    'HEADER',
    'ENTITIES',
  ],
];
const SVG_POISON = [
  ...[
    '%',
    'mm',
    '#',
    'none',
    'inherit',
    'url(#c)',
    '&n;',
    '&#0;',
    '&#x10FFFF;',
    '\ud800',
    '<!--',
    '-->',
    '<![CDATA[',
    ']]>',
    '<g>',
    '</g>',
  ],
  ...[
    '<svg>',
    '</svg>',
    '"',
    "'",
    '{',
    '}',
    '/*',
    '<use href="#peg"/>',
    '<use href="#shelf"/>',
    'M0 0',
    'A0 0 0 0 0',
    'a1e9 1e-9 0 1 1 1 1',
  ],
];
const SHIFTS = [0.005, -0.2, 18, 1e6, -0.0001, 1e9, -1e12];
const NUMBER = /-?\d+(?:\.\d+)?(?:e-?\d+)?/g;

const latin = (bytes: Uint8Array): string => new TextDecoder('latin1').decode(bytes);
const bytesOf = (text: string): Uint8Array => Uint8Array.from(text, (c) => c.charCodeAt(0) & 255);

/** One blow at a file: cut, wrong bytes, stretches moved or doubled, lines or words poisoned, numbers shifted. */
export function blow(sample: Sample, bytes: Uint8Array, other: Uint8Array, random: () => number): Uint8Array {
  const below = (n: number): number => Math.floor(random() * n);
  if (bytes.length === 0) return bytes;
  const kind = random();
  if (kind < 0.08) return bytes.slice(0, below(bytes.length));
  if (kind < 0.1) return bytes.slice(below(bytes.length));
  if (kind < 0.2) {
    const out = bytes.slice();
    for (let i = below(8); i >= 0; i--) out[below(out.length)] = below(256);
    return out;
  }
  if (kind < 0.3) {
    const from = below(bytes.length);
    const piece = (random() < 0.3 ? other : bytes).slice(from, from + below(400));
    const at = below(bytes.length);
    const gone = random() < 0.5 ? below(200) : 0;
    return Uint8Array.from([...bytes.subarray(0, at), ...piece, ...bytes.subarray(at + gone)]);
  }
  if (sample.format === 'binary dxf') return doubled(bytes, below);
  return bytesOf(
    sample.format === 'dxf' ? poisonedLines(latin(bytes), below) : poisonedWords(latin(bytes), below),
  );
}

/** Eight bytes of a binary file made a hostile double or whole number. */
function doubled(bytes: Uint8Array, below: (n: number) => number): Uint8Array {
  const out = bytes.slice();
  if (out.length < 9) return out;
  const view = new DataView(out.buffer);
  const at = below(out.length - 8);
  if (below(2) === 0) view.setFloat64(at, [Number.NaN, Infinity, 1e308, -1e-320, 1e9, 0][below(6)]!, true);
  else view.setInt16(at, [-1, 32767, -32768, 0, 5][below(5)]!, true);
  return out;
}

function poisonedLines(text: string, below: (n: number) => number): string {
  const lines = text.split('\n');
  const pairs = Math.max(1, Math.floor(lines.length / 2));
  const value = (): number => 2 * below(pairs) + 1;
  const all = [...POISON, ...DXF_POISON];
  switch (below(5)) {
    case 0:
      lines.splice(below(lines.length), 1 + below(3));
      break;
    case 1: {
      const from = 2 * below(pairs);
      lines.splice(2 * below(pairs), 2 * below(20), ...lines.slice(from, from + 2 * below(30)));
      break;
    }
    case 2:
      for (let i = below(3); i >= 0; i--) lines[value()] = all[below(all.length)]!;
      break;
    case 3:
      lines[value() - 1] = String(
        [0, 9, 10, 20, 40, 41, 42, 67, 70, 71, 91, 93, 101, 210, 230, 999, -5, 70000][below(18)]!,
      );
      break;
    default:
      for (let i = below(12); i >= 0; i--) {
        const at = value();
        const old = Number(lines[at]);
        if (Number.isFinite(old)) lines[at] = String(old + SHIFTS[below(SHIFTS.length)]!);
      }
  }
  return lines.join('\n');
}

function poisonedWords(text: string, below: (n: number) => number): string {
  const all = [...POISON, ...SVG_POISON];
  const word = (): string => all[below(all.length)]!;
  if (below(3) === 0) {
    const at = below(text.length);
    return text.slice(0, at) + word() + text.slice(at + below(12));
  }
  const count = text.match(NUMBER)?.length ?? 1;
  const chosen = new Set(Array.from({ length: 1 + below(4) }, () => below(count)));
  let k = 0;
  return text.replace(NUMBER, (old) => {
    if (!chosen.has(k++)) return old;
    return below(2) === 0 ? word() : String(Number(old) + SHIFTS[below(SHIFTS.length)]!);
  });
}
