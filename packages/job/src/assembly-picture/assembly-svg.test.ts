/// <reference types="node" />
import { readFileSync } from 'node:fs';
import { loadClip } from '@haunch/geometry';
import { MasterSchema } from '@haunch/model';
import { describe, expect, it } from 'vitest';
import { assemblyPairSvg, assemblySvg } from './assembly-svg.js';

const clip = await loadClip();
const sideboard = MasterSchema.parse(
  JSON.parse(
    readFileSync(
      new URL('../../../../docs/examples/sideboard/sideboard-18.master.json', import.meta.url),
      'utf8',
    ),
  ),
);
const svg = assemblySvg(sideboard, clip);

/** The elements of an XML text in order, or the first fault in it. Knows as much of XML as the picture uses. */
function elements(text: string): string[] {
  const open: string[] = [];
  const names: string[] = [];
  const rest = text.replace(
    /<(\/?)([a-z]+)((?:\s+[\w:-]+="[^"<&]*(?:&(?:amp|lt|gt|quot|#39);[^"<&]*)*")*)(\/?)>/g,
    (_, end, name, __, empty) => {
      if (end) {
        if (open.pop() !== name) throw new Error(`</${name}> closes nothing`);
      } else {
        names.push(name);
        if (!empty) open.push(name);
      }
      return '';
    },
  );
  if (open.length > 0) throw new Error(`<${open.join()}> stays open`);
  if (/[<>]|&(?!(?:amp|lt|gt|quot|#39);)/.test(rest)) throw new Error(`stray markup in ${rest}`);
  return names;
}

describe('assemblySvg', () => {
  it('is the picture in docs, put together beside moved apart', async () => {
    // After a wanted change: `npx vitest run src/assembly-picture -u` in packages/job writes it anew.
    await expect(assemblyPairSvg(sideboard, clip)).toMatchFileSnapshot(
      '../../../../docs/pictures/sideboard.svg',
    );
  });

  it('gives the same bytes every time', () => {
    expect(assemblySvg(structuredClone(sideboard), clip)).toBe(svg);
  });

  it('is one well-formed SVG with a title, a description and every part', () => {
    const names = elements(svg);
    expect(names[0]).toBe('svg');
    expect(names.slice(1, 3)).toEqual(['title', 'desc']);
    expect(svg).toContain('<title>Hall sideboard, eleven parts</title>');
    for (const p of sideboard.parts) {
      expect(svg).toContain(`data-part="${p.id}"`);
      expect(svg).toContain(`${p.id} ${p.name}`);
    }
    expect(() => elements(svg.replace('</g>', ''))).toThrow();
  });

  it('writes no number finer than a tenth of a pixel, and stays small', () => {
    const data = [...svg.matchAll(/ (?:d|x|y|cx|cy|viewBox|width|height)="([^"]*)"/g)]
      .map(([, d]) => d)
      .join(' ');
    expect(data.length).toBeGreaterThan(5000);
    expect(data).not.toMatch(/\.\d\d/);
    expect(data).not.toMatch(/NaN|Infinity|e-/);
    expect(assemblyPairSvg(sideboard, clip).length).toBeLessThan(250_000);
  });

  it('escapes what is said in the master and in the options', () => {
    const nasty = {
      ...sideboard,
      parts: sideboard.parts.map((p, i) => (i === 0 ? { ...p, id: '<E&"L">' } : p)),
    };
    const text = assemblySvg(nasty, clip, { title: '</title><script>"&\u0000' });
    expect(elements(text)).not.toContain('script');
    expect(text).toContain('<title>&lt;/title&gt;&lt;script&gt;&quot;&amp;</title>');
    expect(text).toContain('data-part="&lt;E&amp;&quot;L&quot;&gt;"');
  });

  it('names the parts, each once, on the card and apart from each other; or leaves names out', () => {
    const words = [...svg.matchAll(/<text x="([\d.]+)" y="([\d.]+)"[^>]*>([^<]+)<\/text>/g)].map(
      ([, x, y, id]) => ({ x: Number(x), y: Number(y), id: id! }),
    );
    const ids = words.map((w) => w.id);
    expect(new Set(ids).size).toBe(ids.length);
    expect(ids.length).toBeGreaterThanOrEqual(10);
    for (const w of words) {
      expect(sideboard.parts.map((p) => p.id)).toContain(w.id);
      expect(w.x > 8 && w.x < 712 && w.y > 8).toBe(true);
      for (const o of words)
        if (o !== w) expect(Math.abs(o.x - w.x) > 16 || Math.abs(o.y - w.y) > 11).toBe(true);
    }
    expect(elements(assemblySvg(sideboard, clip, { labels: false }))).not.toContain('text');
  });

  it('keeps a slender piece within its width and a fair height', () => {
    const post = { ...sideboard, assembly: [], parts: sideboard.parts.filter((p) => p.id === 'EL') };
    const text = assemblySvg(post, clip, { from: { azimuth: 0.1, elevation: 0.1 }, width: 300 });
    const [, width, height] = /viewBox="0 0 (\S+) (\S+)"/.exec(text)!.map(Number);
    expect(width).toBe(300);
    expect(height).toBeLessThan(450);
    const xs = [...text.matchAll(/M(-?[\d.]+) /g)].map(([, x]) => Number(x));
    expect(Math.min(...xs)).toBeGreaterThan(30);
    expect(Math.max(...xs)).toBeLessThan(270);
  });

  it.each([
    [{ explode: -0.1 }, /explode/],
    [{ explode: Number.NaN }, /explode/],
    [{ width: 10 }, /width/],
    [{ width: Number.POSITIVE_INFINITY }, /width/],
    [{ from: { azimuth: 0, elevation: 2 } }, /no view/],
    [{ from: { azimuth: Number.NaN, elevation: 0 } }, /no view/],
  ])('throws for %o', (options, says) => {
    expect(() => assemblySvg(sideboard, clip, options)).toThrow(RangeError);
    expect(() => assemblySvg(sideboard, clip, options)).toThrow(says);
  });
});
