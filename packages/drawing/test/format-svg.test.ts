import { circleRing, rectangleRing, ring } from '@haunch/geometry';
import { describe, expect, it } from 'vitest';
import {
  type CurveStyle,
  formatDxf,
  formatSvg,
  type Picture,
  pictureOfParts,
  sheetOfParts,
} from '../src/index.js';
import { pathData } from '../src/svg/path-data.js';
import { LOOKS } from '../src/svg/picture-style.js';
import { sideboardParts } from './sideboard.js';

/** The opening and closing tags of XML text in order, for a check that they pair; throws where they do not. */
function expectWellFormed(xml: string): void {
  const open: string[] = [];
  for (const m of xml.matchAll(/<(\/?)([a-zA-Z]+)((?:\s+[a-zA-Z:-]+="[^"<]*")*)\s*(\/?)>|</g)) {
    if (m[2] === undefined) throw new Error(`stray < at ${m.index}`);
    if (m[1] === '/') expect(open.pop()).toBe(m[2]);
    else if (m[4] !== '/') open.push(m[2]);
  }
  expect(open).toEqual([]);
}

const picture = (style: CurveStyle, title = 'A & <b> "c"'): Picture => ({
  title,
  bounds: { minX: 0, minY: 0, maxX: 100, maxY: 50 },
  groups: [
    {
      id: 'G/1',
      class: 'part big',
      curves: [{ ring: rectangleRing(0, 0, 100, 50), style, title }],
      labels: [{ at: { x: 50, y: 10 }, text: title, height: 5, turn: Math.PI / 2 }],
    },
  ],
});

describe('formatSvg', () => {
  it('writes well-formed XML, whatever the words in it', () => {
    for (const title of ['A & <b> "c"', "]]> <!-- --> '", '\u0000\ud800 Tür ½', '</svg><script>']) {
      const svg = formatSvg(picture('outline', title));
      expectWellFormed(svg);
      expect(svg).not.toContain('<script');
    }
    expectWellFormed(formatSvg(pictureOfParts(sideboardParts(), { title: 'Sideboard' })));
  });

  it('notices XML that is not well-formed', () => {
    expect(() => expectWellFormed('<a><b></a>')).toThrow();
    expect(() => expectWellFormed('<a>1 < 2</a>')).toThrow();
  });

  it('turns y down without mirroring: a picture 50 high has its upper edge at −50', () => {
    const svg = formatSvg(picture('cut'));
    expect(svg).toContain('d="M0 0L100 0L100 -50L0 -50L0 0Z"');
    expect(svg).toMatch(/<text x="50" y="-10"[^>]*rotate\(-90 50 -10\)/);
    expect(svg).toMatch(/viewBox="-2\.5 -52\.5 105 /);
  });

  it('writes arcs as arcs: counter-clockwise has sweep flag 0, beyond a half turn the large flag', () => {
    // SVG 2, 9.3.8: sweep flag 1 runs in the direction of positive angles, which is clockwise where y is down.
    expect(pathData(circleRing({ x: 0, y: 0 }, 10))).toBe('M10 0A10 10 0 0 0 -10 0A10 10 0 0 0 10 0Z');
    const wide = ring([
      { x: 0, y: 0, bulge: 2 },
      { x: 10, y: 0, bulge: 0 },
    ]);
    expect(pathData(wide)).toBe('M0 0A6.25 6.25 0 1 0 10 0L0 0Z');
    const clockwise = ring([
      { x: 0, y: 0, bulge: -0.5 },
      { x: 10, y: 0, bulge: 0 },
    ]);
    expect(pathData(clockwise)).toBe('M0 0A6.25 6.25 0 0 1 10 0L0 0Z');
  });

  it('tells every two styles apart by line or fill, with colour left out of account', () => {
    const looks = [...LOOKS.values()].map(
      (l) =>
        `${l.width} ${l.dash ?? ''} ${['hatch', 'crosshatch', 'none'].includes(l.fill) ? l.fill : l.fill === 'paper' || l.fill === 'wood' ? 'light' : 'dark'}`,
    );
    expect(new Set(looks).size).toBe(LOOKS.size);
  });

  it('puts each style that occurs, and no other, in the legend', () => {
    for (const style of LOOKS.keys()) {
      const legend = formatSvg(picture(style)).split('id="legend"')[1]!;
      expect([...legend.matchAll(/<path class="([a-z-]+)"/g)].map((m) => m[1])).toEqual([style]);
      expect(legend).toContain(LOOKS.get(style)!.words.replace("'", '&#39;'));
    }
  });

  it('keeps ids apart when a prefix is given', () => {
    const svg = formatSvg(picture('pocket'), { prefix: 'one' });
    expect(svg).toContain('id="one-G_1"');
    expect(svg).toContain('url(#one-hatch)');
    expect(svg).toContain('class="part big"');
  });

  it('refuses bounds of no size', () => {
    expect(() =>
      formatSvg({ title: '', bounds: { minX: 0, minY: 0, maxX: 0, maxY: 5 }, groups: [] }),
    ).toThrow(RangeError);
  });
});

describe('pictureOfParts', () => {
  const parts = sideboardParts();
  const drawn = pictureOfParts(parts);

  it('shows every part with its name and size, none over another', () => {
    expect(drawn.groups.map((g) => g.id)).toEqual(parts.map((p) => p.id));
    expect(drawn.groups[0]!.labels.map((l) => l.text)).toEqual(['EL · End, left', '340 × 760 × 18 mm']);
    const boxes = drawn.groups.map((g) => {
      const xs = g.curves[0]!.ring.vertices.map((v) => v.x);
      const ys = g.curves[0]!.ring.vertices.map((v) => v.y);
      return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)] as const;
    });
    boxes.forEach((a, i) => {
      for (const b of boxes.slice(i + 1))
        expect(a[2] <= b[0] || b[2] <= a[0] || a[3] <= b[1] || b[3] <= a[1]).toBe(true);
    });
  });

  it('draws as many cuts, recesses and holes as the parts have', () => {
    const count = (style: CurveStyle) =>
      drawn.groups.flatMap((g) => g.curves).filter((c) => c.style === style).length;
    const through = parts.flatMap((p) => p.holes).filter((h) => h.depth === 'through').length;
    expect(count('outline')).toBe(11);
    expect(count('pocket')).toBe(2);
    expect(count('cut')).toBe(parts.flatMap((p) => p.through).length + through);
    expect(count('hole')).toBe(28);
  });
});

it('gives the same bytes for the same parts', () => {
  const parts = sideboardParts();
  expect(formatSvg(pictureOfParts(parts))).toBe(formatSvg(pictureOfParts(sideboardParts())));
  expect(formatDxf(sheetOfParts(parts))).toBe(formatDxf(sheetOfParts(sideboardParts())));
});
