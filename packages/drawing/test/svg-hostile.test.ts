/// <reference types="node" />
import { describe, expect, it } from 'vitest';
import { findParts, formatSvg, pictureOfParts, readSvg } from '../src/index.js';
import { sideboardParts } from './sideboard.js';
import { SVG_FIXTURES, svgFixtureBytes } from './svg-fixtures.js';

/** A small seeded generator (mulberry32), so that every run meets the same files. */
function seeded(seed: number): () => number {
  let a = seed >>> 0;
  return () => {
    a = (a + 0x6d2b79f5) >>> 0;
    let t = Math.imul(a ^ (a >>> 15), 1 | a);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

/** Everything that is read, in one file. */
const MIXED = `<?xml version="1.0" encoding="UTF-8"?>
<!DOCTYPE svg [<!ENTITY n "1">]>
<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" version="1.1" width="600mm" height="400mm" viewBox="0 0 600 400" stroke="black" fill="none">
<style>.fold{stroke-dasharray:4 2} g.off .cut{display:none} #axis{stroke:none}</style>
<defs><g id="peg"><circle cx="0" cy="0" r="4"/></g><symbol id="slot" viewBox="0 0 10 10"><rect width="10" height="10" rx="2"/></symbol><clipPath id="c"><rect width="9" height="9"/></clipPath></defs>
<g id="shelf" transform="translate(10 10) rotate(15 20 30) scale(1.5,-1.5) skewX(5)"><path d="M0 0H200V80C200 120 160 120 120 80S60 40 40 90q-10 20-20 0t-20-10z"/>
<path class="fold" d="m20 20 10 0a5 5 0 0110 10l-4.5e0-.5z"/><text x="30" y="20" font-size="4">Shelf<tspan x="30" dy="5">left</tspan></text></g>
<g id="end"><polygon points="300,20 400,20 400,120 300,120"/><polyline points="310 30 320 30 320 40"/><line x1="1cm" y1="5%" x2="2in" y2="3em"/></g>
<ellipse cx="450" cy="200" rx="60" ry="20" transform="matrix(1 .2 -.3 1 5 6)"/><use xlink:href="#peg" x="350" y="60"/><use href="#slot" x="20" y="300" width="50" height="30"/>
<svg x="200" y="200" width="100" height="80" viewBox="0 0 10 10" preserveAspectRatio="xMinYMax slice"><path d="M1 1A3 2 30 1 0 9 8Z" style="stroke:red;stroke-dasharray:none"/></svg>
<switch><foreignObject requiredExtensions="x"/><rect x="500" y="300" width="50" height="40"/></switch><image href="x"/>
</svg>
`;

const encode = (text: string): Uint8Array => new TextEncoder().encode(text);
const CORPUS: readonly Uint8Array[] = [
  encode(MIXED),
  encode(formatSvg(pictureOfParts(sideboardParts().slice(0, 2)))),
  encode(MIXED),
  ...SVG_FIXTURES.filter((f) => f !== 'svg-limit').map(svgFixtureBytes),
];

const POISON = [
  'NaN',
  'Infinity',
  '1e400',
  '-1e308',
  '1e-320',
  '',
  '0',
  '-1',
  '9999999999',
  '1e9',
  '-',
  '.',
  'e',
  '%',
  'mm',
  '#',
  'none',
  'inherit',
  'url(#c)',
  '&n;',
  '&#0;',
  '&#x10FFFF;',
  '\u0000',
  '\ud800',
  '<!--',
  '-->',
  '<![CDATA[',
  ']]>',
  '<g>',
  '</g>',
  '<svg>',
  '</svg>',
  '"',
  "'",
  '{',
  '}',
  '/*',
  '<use href="#shelf"/>',
  'M0 0',
  'Z',
  'a',
  'q',
  '@media{',
  'rotate(',
  'scale(0)',
  'scale(1e200)',
  'matrix(0 0 0 0 0 0)',
  'display:none;',
  'Min',
  '\n\n',
  '\u2028',
];
const NUMBER = /-?\d*\.?\d+(?:e-?\d+)?/gi;

/** One blow: a cut, wrong bytes, pieces lost, doubled or swapped, words and numbers poisoned. */
function mutate(bytes: Uint8Array, random: () => number): Uint8Array {
  const below = (n: number): number => Math.floor(random() * n);
  const kind = random();
  if (kind < 0.05) return bytes.slice(0, below(bytes.length));
  if (kind < 0.07) return bytes.slice(below(bytes.length));
  if (kind < 0.2) {
    const out = bytes.slice();
    for (let i = below(4); i >= 0; i--) out[below(out.length)] = below(256);
    return out;
  }
  const text = new TextDecoder().decode(bytes);
  const [a, b] = [below(text.length), below(60)];
  if (kind < 0.27) return encode(text.slice(0, a) + text.slice(a + b));
  if (kind < 0.34) return encode(text.slice(0, a + b) + text.slice(a));
  if (kind < 0.44) return encode(text.slice(0, a) + POISON[below(POISON.length)]! + text.slice(a));
  if (kind < 0.52) {
    // A whole element doubled or taken out.
    const tags = [...text.matchAll(/<[a-z]+ [^<>]*\/>/g)];
    const tag = tags[below(tags.length)];
    if (tag === undefined) return bytes;
    const from = tag.index;
    return encode(
      text.slice(0, from) + (kind < 0.48 ? tag[0] + tag[0] : '') + text.slice(from + tag[0].length),
    );
  }
  if (kind < 0.6) {
    const values = [...text.matchAll(/"[^"]*"/g)];
    const [p, q] = [values[below(values.length)], values[below(values.length)]];
    if (p === undefined || q === undefined) return bytes;
    return encode(text.slice(0, p.index) + q[0] + text.slice(p.index + p[0].length));
  }
  const rate = random() * 0.05;
  const poisoned = kind < 0.75;
  return encode(
    text.replace(NUMBER, (n) =>
      random() >= rate
        ? n
        : poisoned
          ? POISON[below(16)]!
          : String(Number(n) * [1, -1, 1e-3, 1e3, 0][below(5)]! + [0.005, -0.2, 18, 0][below(4)]!),
    ),
  );
}

/** Fails when any number in a value is not finite. */
function expectFinite(value: unknown): void {
  if (typeof value === 'number') {
    if (!Number.isFinite(value)) throw new Error(`${value} came out`);
  } else if (Array.isArray(value)) for (const v of value) expectFinite(v);
  else if (typeof value === 'object' && value !== null) for (const v of Object.values(value)) expectFinite(v);
}

/** Reads hostile bytes all the way to a picture; answers how far it came. */
function readThrough(source: Uint8Array | string): 'refused' | 'drawing' | 'parts' {
  const drawing = readSvg(source, { file: 'hostile.svg' });
  for (const d of drawing.diagnostics) {
    // What the file itself says stands in quotes.
    expect(d.message.replace(/'[^']*'/g, '')).not.toMatch(/undefined|NaN mm|\[object/);
    expect(d.locus.file).toBe('hostile.svg');
    if (d.level === 'error') expect(d.locus.line).toBeGreaterThan(0);
  }
  if (!drawing.ok) {
    expect(drawing.diagnostics.some((d) => d.level === 'error')).toBe(true);
    return 'refused';
  }
  expectFinite(drawing.value);
  const parts = findParts(drawing.value);
  if (!parts.ok) {
    expect(parts.diagnostics.some((d) => d.level === 'error')).toBe(true);
    return 'drawing';
  }
  expectFinite(parts.value);
  formatSvg(pictureOfParts(parts.value));
  return 'parts';
}

/** A long run: `HAUNCH_FUZZ=100000 npx vitest run test/svg-hostile.test.ts`. */
const RUNS = Math.max(1500, Number(process.env.HAUNCH_FUZZ) || 0);
const SEED = Number(process.env.HAUNCH_FUZZ_SEED) || 20_250_131;

describe('hostile SVG', () => {
  it(`survives ${RUNS} mutations and truncations without a throw, a hang or a number that is not finite`, {
    timeout: 120_000 + RUNS * 100,
  }, () => {
    const random = seeded(SEED);
    const seen = { refused: 0, drawing: 0, parts: 0 };
    for (let i = 0; i < RUNS; i++) {
      let bytes = CORPUS[i % CORPUS.length]!;
      for (let k = 0; k <= random() * 2; k++) if (bytes.length > 0) bytes = mutate(bytes, random);
      try {
        seen[readThrough(bytes)]++;
      } catch (e) {
        throw new Error(`mutation ${i} (seed ${SEED}) of corpus file ${i % CORPUS.length}: ${e}`, {
          cause: e,
        });
      }
    }
    // The mutations reach every stage; otherwise they would prove nothing.
    expect(Math.min(seen.refused, seen.drawing, seen.parts)).toBeGreaterThan(RUNS / 50);
  });

  it('refuses every truncation of a file', () => {
    const bytes = encode(MIXED);
    const end = MIXED.lastIndexOf('</svg>') + '</svg>'.length;
    for (let n = 0; n < end; n += 7) expect(readThrough(bytes.slice(0, n))).toBe('refused');
    expect(readThrough(bytes.slice(0, end))).not.toBe('refused');
  });

  it('answers the same for the same bytes', () => {
    for (const bytes of CORPUS) expect(JSON.stringify(readSvg(bytes))).toBe(JSON.stringify(readSvg(bytes)));
  });

  const svg = (text: string): string =>
    `<svg xmlns="http://www.w3.org/2000/svg" width="900mm" viewBox="0 0 900 900">${text}</svg>`;
  // Each of these would keep a careless reader busy for hours, or break its stack or its memory.
  it.each<[string, () => string, 'refused' | 'drawing' | 'parts']>([
    [
      'copies of copies of copies',
      () =>
        svg(
          `<defs><path id="c0" d="M0 0H9V9Z"/>${Array.from({ length: 30 }, (_, i) => `<g id="c${i + 1}">${`<use href="#c${i}"/>`.repeat(9)}</g>`).join('')}</defs><use href="#c30"/>`,
        ),
      'refused',
    ],
    [
      'a long path copied often',
      () =>
        svg(`<defs><path id="p" d="M0 0L${'1 2 '.repeat(20_000)}"/></defs>${'<use href="#p"/>'.repeat(500)}`),
      'refused',
    ],
    [
      'a chain of 5,000 copies',
      () =>
        svg(
          `<defs>${Array.from({ length: 5000 }, (_, i) => `<g id="c${i}"><use href="#c${i + 1}"/></g>`).join('')}</defs><use href="#c0"/>`,
        ),
      'refused',
    ],
    ['elements 100,000 deep', () => svg('<g>'.repeat(100_000)), 'refused'],
    ['a million unclosed quotes', () => svg(`<path d="${"'".repeat(1_000_000)}`), 'refused'],
    ['a style sheet of braces', () => svg(`<style>${'{'.repeat(300_000)}</style>`), 'drawing'],
    ['a style sheet of open comments', () => svg(`<style>${'/*'.repeat(300_000)}</style>`), 'drawing'],
    [
      'rules that pick from all',
      () =>
        svg(
          `<style>${Array.from({ length: 4000 }, (_, i) => `.a .b${i} .c{}`).join('')}</style>${'<g class="a">'.repeat(100)}${'<g class="c"/>'.repeat(20_000)}${'</g>'.repeat(100)}`,
        ),
      'refused',
    ],
    [
      'a class attribute of 300,000 names',
      () => svg(`<style>.a{}</style><g class="${'b '.repeat(300_000)}"/>`),
      'drawing',
    ],
    [
      'a transform list of 100,000 functions',
      () => svg(`<g transform="${'scale(1) '.repeat(100_000)}"/>`),
      'drawing',
    ],
    ['an unfinished transform of blanks', () => svg(`<g transform="${' '.repeat(300_000)}x"/>`), 'refused'],
    [
      'a path of 300,000 points',
      () =>
        svg(
          `<path d="M0 0L${Array.from({ length: 300_000 }, (_, i) => `${i % 977} ${i % 991}`).join(' ')}"/>`,
        ),
      'drawing',
    ],
  ])('is done soon with %s', { timeout: 60_000 }, (name, make, outcome) => {
    // Finding parts in a scribble is another matter; the drawing alone is asked for.
    if (name.startsWith('a path of')) expect(readSvg(make()).ok).toBe(true);
    else expect(readThrough(make())).toBe(outcome);
  });
});
