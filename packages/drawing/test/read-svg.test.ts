import { type Ring, ringArea, ringBounds } from '@haunch/geometry';
import { type Part, partOnTable } from '@haunch/model';
import { describe, expect, it } from 'vitest';
import {
  type Drawing,
  type Entity,
  findParts,
  formatSvg,
  pictureOfParts,
  type ReadSvgOptions,
  readSvg,
} from '../src/index.js';
import { sideboardParts } from './sideboard.js';

/** Reads the inside of an SVG whose user unit is 1 mm. */
const inside = (text: string, root = 'width="1000mm" viewBox="0 0 1000 1000"'): string =>
  `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" stroke="black" ${root}>${text}</svg>`;

function drawingOf(text: string, options: ReadSvgOptions = {}): Drawing {
  const r = readSvg(text, options);
  if (!r.ok) throw new Error(JSON.stringify(r.diagnostics));
  return r.value;
}
const entities = (text: string): readonly Entity[] => drawingOf(inside(text)).entities;

/** An entity without its place in the file, for comparing. */
const bare = (e: Entity) => {
  const { layer: _l, handle: _h, line: _n, elevation: _e, depth: _d, ...rest } = e;
  return rest;
};
const bares = (text: string) => entities(text).map(bare);
const corners = (e: Entity): number[][] =>
  e.kind === 'polyline'
    ? e.vertices.map((v) => (v.bulge === 0 ? [v.x, v.y] : [v.x, v.y, Number(v.bulge.toFixed(6))]))
    : e.kind === 'line'
      ? [
          [e.from.x, e.from.y],
          [e.to.x, e.to.y],
        ]
      : [];
const codes = (text: string, options: ReadSvgOptions = {}) =>
  readSvg(text, options).diagnostics.map((d) => d.code.slice(5));

/** tan(90° / 4): the bulge of a quarter turn. */
const QUARTER = Number((Math.SQRT2 - 1).toFixed(6));

describe('shapes', () => {
  it('turns y up about the user origin', () => {
    expect(bares('<line x1="1" y1="2" x2="30" y2="40"/>')).toEqual([
      { kind: 'line', from: { x: 1, y: -2 }, to: { x: 30, y: -40 } },
    ]);
  });

  it('reads rectangles, with rounded corners as true arcs', () => {
    expect(corners(entities('<rect x="10" y="20" width="30" height="40"/>')[0]!)).toEqual([
      [10, -20],
      [40, -20],
      [40, -60],
      [10, -60],
    ]);
    const round = entities('<rect x="10" y="20" width="30" height="40" rx="5"/>')[0]!;
    expect(corners(round)).toEqual([
      [15, -20],
      [35, -20, -QUARTER],
      [40, -25],
      [40, -55, -QUARTER],
      [35, -60],
      [15, -60, -QUARTER],
      [10, -55],
      [10, -25, -QUARTER],
    ]);
  });

  it('limits corner radii to half the sides, and lets each stand for the other (SVG 2, 10.2)', () => {
    const ring = (text: string) => entities(text)[0]!;
    expect(bare(ring('<rect width="20" height="20" rx="50"/>'))).toEqual({
      kind: 'circle',
      centre: { x: 10, y: -10 },
      radius: 10,
    });
    expect(bare(ring('<rect width="20" height="20" ry="4"/>'))).toEqual(
      bare(ring('<rect width="20" height="20" rx="4" ry="4"/>')),
    );
    expect(corners(ring('<rect width="20" height="20" rx="4" ry="0"/>')).length).toBe(4);
  });

  it('reads circles, and ellipses that a transform makes round, as circles', () => {
    const circle = { kind: 'circle', centre: { x: 20, y: -30 }, radius: 5 };
    expect(bares('<circle cx="20" cy="30" r="5"/>')).toEqual([circle]);
    expect(bares('<ellipse cx="20" cy="30" rx="5" ry="5"/>')).toEqual([circle]);
    expect(bares('<ellipse cx="10" cy="30" rx="2.5" ry="5" transform="scale(2 1)"/>')).toEqual([circle]);
    expect(bares('<path d="M25 30A5 5 0 0 1 15 30A5 5 0 0 1 25 30Z"/>')).toEqual([circle]);
    expect(bares('<path d="M20 25a5 5 0 1 0 .0001 0z"/>')[0]).toMatchObject({ kind: 'circle', radius: 5 });
  });

  it('reads the usual four curves of a circle as a circle, and says how far it is from them', () => {
    const k = 0.5523 * 200;
    const four = `M300 100C300 ${100 + k} ${100 + k} 300 100 300S-100 ${100 + k} -100 100S${100 - k} -100 100 -100S300 ${100 - k} 300 100Z`;
    const r = readSvg(inside(`<path d="${four}"/>`));
    expect(r.ok && r.value.entities.map(bare)).toEqual([
      { kind: 'circle', centre: { x: 100, y: -100 }, radius: 200 },
    ]);
    // 2.725e-4 of the radius, the published error of the quarter circle.
    expect(r.diagnostics.map((d) => d.message).join()).toMatch(/up to 0\.05[45] mm/);
  });

  it('follows an ellipse within 0.01 mm', () => {
    const e = entities('<ellipse cx="0" cy="0" rx="300" ry="100"/>')[0]!;
    if (e.kind !== 'polyline') throw new Error(e.kind);
    for (const v of e.vertices) {
      // Distance to the ellipse to first order: |f| / |∇f|.
      const f = (v.x / 300) ** 2 + (v.y / 100) ** 2 - 1;
      expect(Math.abs(f) / Math.hypot((2 * v.x) / 300 ** 2, (2 * v.y) / 100 ** 2)).toBeLessThan(0.0101);
    }
    expect(Math.abs(ringArea({ vertices: e.vertices }))).toBeCloseTo(Math.PI * 300 * 100, -1.5);
    expect(e.vertices.length).toBeLessThan(120);
  });

  it('takes arcs by their flags and keeps those beyond a half turn whole', () => {
    // SVG 1.1, 8.3.8: three quarters of a circle about (300, 200).
    const e = entities('<path d="M300,200 h-150 a150,150 0 1,0 150,-150 z"/>')[0]!;
    expect(corners(e)).toEqual([
      [300, -200],
      [150, -200, Number(Math.tan((3 * Math.PI) / 8).toFixed(6))],
      [300, -50],
    ]);
  });

  it('closes what comes back to its start and what is only filled, and nothing else', () => {
    const closed = (text: string) => entities(text).map((e) => e.kind === 'polyline' && e.closed);
    expect(closed('<path d="M0 0H9V9L0 0"/>')).toEqual([true]);
    expect(closed('<path d="M0 0H9V9"/>')).toEqual([false]);
    expect(closed('<polyline points="0,0 9,0 9,9"/>')).toEqual([false]);
    expect(closed('<path d="M0 0H9V9" stroke="none"/>')).toEqual([true]);
    expect(closed('<polygon points="0,0 9,0 9,9"/>')).toEqual([true]);
  });

  it('reads lengths with units and in per cent of the viewport', () => {
    const px = 96 / 25.4;
    expect(bares(`<circle cx="10%" cy="50%" r="${px}"/>`)[0]).toMatchObject({ centre: { x: 100, y: -500 } });
    expect(bares('<line x1="1in" y1="2.54cm" x2="72pt" y2="25.4mm"/>')).toEqual([]);
    expect(bares('<line x1="1in" y1="0" x2="6pc" y2="96px"/>')).toEqual([
      { kind: 'line', from: { x: 96, y: 0 }, to: { x: 96, y: -96 } },
    ]);
  });
});

describe('transforms, copies and viewports', () => {
  it('applies lists from the right, and groups outside in', () => {
    expect(
      bares('<g transform="translate(100 0)"><line x2="10" y2="0" transform="rotate(90) scale(2)"/></g>'),
    ).toEqual([{ kind: 'line', from: { x: 100, y: 0 }, to: { x: 100, y: -20 } }]);
    expect(bares('<line x1="10" x2="20" transform="rotate(90 10 0)"/>')).toEqual([
      { kind: 'line', from: { x: 10, y: 0 }, to: { x: 10, y: -10 } },
    ]);
  });

  it('turns the sense of arcs in mirrored groups', () => {
    const arc = '<path d="M0 0A10 10 0 0 1 10 10"/>';
    const bulges = (text: string) => entities(text).map((e) => e.kind === 'arc' && [e.centre.x, e.centre.y]);
    expect(bulges(arc)).toEqual([[0, -10]]);
    expect(bulges(`<g transform="scale(-1 1)">${arc}</g>`)).toEqual([[0, -10]]);
    expect(bulges(`<g transform="scale(1 -1)">${arc}</g>`)).toEqual([[0, 10]]);
  });

  it('copies by use, with symbols fitted into their size', () => {
    expect(
      bares(
        '<defs><circle id="peg" r="4"/></defs><use href="#peg" x="10" y="20"/><use xlink:href="#peg" transform="translate(50 0)"/>',
      ),
    ).toEqual([
      { kind: 'circle', centre: { x: 10, y: -20 }, radius: 4 },
      { kind: 'circle', centre: { x: 50, y: 0 }, radius: 4 },
    ]);
    expect(
      bares(
        '<symbol id="s" viewBox="0 0 10 10"><circle cx="5" cy="5" r="5"/></symbol><use href="#s" x="100" width="40" height="40"/>',
      ),
    ).toEqual([{ kind: 'circle', centre: { x: 120, y: -20 }, radius: 20 }]);
  });

  it.each<[string, number, number, number]>([
    ['', 70, 20, 20],
    ['xMinYMin', 20, 20, 20],
    ['xMaxYMax meet', 120, 20, 20],
    ['xMidYMid slice', 70, 20, 70],
    ['xMinYMax slice', 70, -30, 70],
  ])('fits a nested view box by preserveAspectRatio "%s" (SVG 2, 8.2)', (preserve, x, y, r) => {
    const [circle] = bares(
      `<svg x="0" y="0" width="140" height="40" viewBox="-10 -10 20 20" preserveAspectRatio="${preserve}"><circle r="10"/></svg>`,
    );
    expect(circle).toEqual({ kind: 'circle', centre: { x, y: -y }, radius: r });
  });

  it('stretches a view box where preserveAspectRatio is none', () => {
    const [rect] = entities(
      '<svg width="200" height="50" viewBox="0 0 10 10" preserveAspectRatio="none"><rect width="10" height="10"/></svg>',
    );
    expect(corners(rect!)).toEqual([
      [0, 0],
      [200, 0],
      [200, -50],
      [0, -50],
    ]);
  });

  it('draws the one child of a switch whose conditions hold', () => {
    expect(
      bares('<switch><foreignObject requiredExtensions="x"/><circle r="3"/><circle r="4"/></switch>'),
    ).toEqual([{ kind: 'circle', centre: { x: 0, y: 0 }, radius: 3 }]);
  });
});

describe('style', () => {
  const sheet =
    '<style>.fold, #axis { stroke-dasharray: 4 2 } /* } */ @media print { .cut { display: none } } g.off .cut { display: none } .solid { stroke-dasharray: none !important }</style>';
  const layers = (text: string) =>
    drawingOf(inside(`${sheet}${text}`)).layers.map((l) => [l.name, l.off, l.colour]);

  it('follows classes, ids and types one inside another, and leaves other media alone', () => {
    expect(layers('<g id="A"><path class="cut" d="M0 0H9V9Z"/></g>')).toEqual([['A', false, 0]]);
    expect(layers('<g id="A"><path class="fold" d="M0 0H9V9Z"/><path id="axis" d="M0 0H9"/></g>')).toEqual([
      ['A (dashed)', true, 0],
    ]);
    expect(layers('<g id="A"><path class="fold solid" d="M0 0H9V9Z"/></g>')).toEqual([['A', false, 0]]);
    expect(layers('<g class="off"><g><path class="cut" d="M0 0H9V9Z"/></g></g>')).toEqual([]);
  });

  it('takes the style attribute before rules and rules before attributes', () => {
    expect(layers('<path class="fold" style="stroke-dasharray:none" d="M0 0H9"/>')).toEqual([
      ['0', false, 0],
    ]);
    expect(layers('<path class="solid" stroke-dasharray="4" d="M0 0H9"/>')).toEqual([['0', false, 0]]);
  });

  it('names layers by label, else by id, and colours them by their first stroke', () => {
    const text =
      '<g xmlns:e="urn:e" e:label="Cut 1" id="g1"><g id="g2"><path stroke="#f00" d="M0 0H9"/></g></g><g id="EL"><g id="EL.pocket"><path style="stroke: rgb(0, 0, 255)" d="M0 0H9"/></g></g><path stroke="lime" d="M5 5H9"/>';
    expect(layers(text)).toEqual([
      ['Cut 1', false, 0xff0000],
      ['EL.pocket', false, 0x0000ff],
      ['0', false, 0x00ff00],
    ]);
  });

  it('leaves out what is hidden, with a note, and shows what a hidden group holds visibly', () => {
    const visible = '<g visibility="hidden"><circle r="1"/><circle r="2" visibility="visible"/></g>';
    expect(bares(visible)).toEqual([{ kind: 'circle', centre: { x: 0, y: 0 }, radius: 2 }]);
    expect(
      codes(
        inside(
          `<rect width="90" height="90"/>${visible}<g display="none"><circle r="3"/></g><g opacity="0"><circle r="3"/></g>`,
        ),
      ),
    ).toEqual(['svg-hidden']);
  });

  it('keeps ids as handles, and lettering as text with its height and turn', () => {
    const [t] = entities(
      '<text id="n" x="10 12" y="20" font-size="8" transform="rotate(-90 10 20)">Left<tspan x="10" dy="9"> end</tspan></text>',
    );
    expect(t).toEqual({
      kind: 'text',
      layer: '0',
      handle: 'n',
      line: 1,
      elevation: 0,
      depth: 0,
      at: { x: 10, y: -20 },
      text: 'Left end',
      height: 8,
      turn: Math.PI / 2,
    });
  });
});

describe('the unit', () => {
  const unit = (
    root: string,
    body = '<rect x="1" y="1" width="300" height="200"/>',
    options: ReadSvgOptions = {},
  ) => {
    const r = readSvg(inside(body, root), options);
    if (!r.ok) throw new Error(JSON.stringify(r.diagnostics));
    return { ...r.value.unit, said: r.diagnostics.map((d) => d.code.slice(5)) };
  };

  // CSS Values 3, 6.2: 1in = 2.54cm = 25.4mm = 72pt = 6pc = 96px.
  it.each<[string, number]>([
    ['width="400mm" height="300mm" viewBox="0 0 400 300"', 1],
    ['width="40cm" height="30cm" viewBox="0 0 800 600"', 0.5],
    ['width="10in" height="7.5in" viewBox="0 0 960 720"', 25.4 / 96],
    ['width="1152pt" height="864pt" viewBox="0 0 1152 864"', 25.4 / 72],
    ['width="96pc" viewBox="0 0 1152 864"', 25.4 / 72],
    ['width="1600q" height="1200q" viewBox="0 0 400 300"', 1],
    ['width="600mm" height="300mm" viewBox="0 0 400 300"', 1],
    ['width="600mm" height="300mm" viewBox="0 0 400 300" preserveAspectRatio="xMidYMid slice"', 1.5],
    ['width="400mm" height="300mm"', 25.4 / 96],
  ])('comes from a physical size: %s', (root, factor) => {
    const u = unit(root);
    expect(u.basis).toBe('header');
    expect(u.factor).toBeCloseTo(factor, 9);
    expect(u.said).toEqual([]);
  });

  it('stretches y where the page does', () => {
    const d = drawingOf(
      inside(
        '<rect width="100" height="100"/>',
        'width="200mm" height="100mm" viewBox="0 0 100 100" preserveAspectRatio="none"',
      ),
    );
    expect(corners(d.entities[0]!)).toEqual([
      [0, 0],
      [200, 0],
      [200, -100],
      [0, -100],
    ]);
  });

  // ISO 216: A4 is 210 × 297 mm, which is 744.09 × 1052.36 at 90 to the inch and 595.28 × 841.89 at 72.
  it.each<[string, string]>([
    ['width="744.09448819" height="1052.3622047"', '1/90 inch'],
    ['width="595.28" height="841.89" viewBox="0 0 595.28 841.89"', '1/72 inch'],
    ['width="793.70" height="1122.52" viewBox="0 0 793.70 1122.52"', '1/96 inch'],
    ['viewBox="0 0 297 210"', 'mm'],
    ['width="612" height="792"', '1/72 inch'],
  ])('is guessed from a page of a known size: %s', (root, name) => {
    const u = unit(root);
    expect([u.name, u.basis, u.said]).toEqual([name, 'guessed', ['no-unit']]);
    expect(u.reason).toMatch(/page/);
  });

  it.each<[string, number, string]>([
    ['mm', 1, 'width="1000" height="700" viewBox="0 0 1000 700"'],
    ['1/96 inch', 96 / 25.4, 'width="1000" height="700" viewBox="0 0 1000 700"'],
    ['1/72 inch', 72 / 25.4, 'viewBox="0 0 1000 700"'],
    ['1/90 inch', 90 / 25.4, 'viewBox="0 0 1000 700"'],
  ])('is guessed as %s from slots as wide as a sheet is thick', (name, scale, root) => {
    const slots = [20, 90, 160]
      .map((x) => `<path d="M${x * scale} ${20 * scale}h${18 * scale}v${50 * scale}h${-18 * scale}z"/>`)
      .join('');
    const u = unit(root, `<rect width="${240 * scale}" height="${120 * scale}"/>${slots}`);
    expect([u.name, u.basis]).toEqual([name, 'guessed']);
    expect(u.reason).toMatch(/18 mm/);
  });

  it('is assumed and said where nothing speaks: 1 mm without a size, 1/96 inch in pixels', () => {
    expect(unit('viewBox="0 0 1234 777"')).toMatchObject({ name: 'mm', basis: 'assumed', said: ['no-unit'] });
    expect(unit('width="1234px" height="777px"', '<rect width="1000" height="400"/>')).toMatchObject({
      name: '1/96 inch',
      basis: 'assumed',
      said: ['no-unit'],
    });
    expect(unit('width="100%" viewBox="0 0 1234 777"')).toMatchObject({ name: 'mm', basis: 'assumed' });
  });

  it('is what is given, in silence, whatever the file states', () => {
    const root = 'width="400mm" viewBox="0 0 400 300"';
    expect(unit(root, undefined, { unit: 'inch' })).toMatchObject({ factor: 25.4, basis: 'given', said: [] });
    expect(unit(root, undefined, { userUnit: 0.25 })).toMatchObject({
      factor: 0.25,
      basis: 'given',
      said: [],
    });
    expect(() => readSvg('', { userUnit: 0 })).toThrow(RangeError);
    expect(() => readSvg('', { userUnit: Number.NaN })).toThrow(RangeError);
    expect(() => readSvg('', { userUnit: 1, unit: 'mm' })).toThrow(RangeError);
  });
});

describe('the file as XML', () => {
  const plate = '<path id="p" d="M0 0H90V60Z"/>';

  it('takes prefixes, a DOCTYPE, entities that it does not expand, comments and CDATA', () => {
    const d = drawingOf(`<?xml version="1.0"?>
<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "svg11.dtd" [ <!ENTITY ns "http://www.w3.org/2000/svg"> <!ENTITY e "x"> ]>
<s:svg xmlns:s="http://www.w3.org/2000/svg" xmlns:o="&ns;" version="1.1" width="100mm" viewBox="0 0 100 100" stroke="red">
<!-- <s:circle r="5"/> --><o:thing r="3"/>
<s:style><![CDATA[ .a > .b {} ]]></s:style>
<s:text>&e;&amp;</s:text>
<s:path d="M0 0H90V60Z"/></s:svg>`);
    expect(d.version).toBe('SVG 1.1');
    expect(d.entities.map((e) => [e.kind, e.line])).toEqual([
      ['text', 6],
      ['polyline', 7],
    ]);
    expect(d.entities[0]).toMatchObject({ text: '&e;&' });
  });

  it('never expands entities: nested ones stay as they are', () => {
    const laughs = Array.from({ length: 9 }, (_, i) => `<!ENTITY l${i + 1} "${`&l${i};`.repeat(10)}">`).join(
      '',
    );
    const d = drawingOf(`<!DOCTYPE svg [<!ENTITY l0 "ha">${laughs}]>${inside(`<text>&l9;</text>${plate}`)}`);
    expect(d.entities[0]).toMatchObject({ text: '&l9;' });
  });

  it('reads UTF-8, UTF-16 and named encodings', () => {
    const text = inside(`<g id="Tür">${plate}</g>`);
    const utf16 = new Uint8Array(2 + 2 * text.length);
    utf16.set([0xff, 0xfe]);
    for (let i = 0; i < text.length; i++)
      utf16.set([text.charCodeAt(i) & 255, text.charCodeAt(i) >> 8], 2 + 2 * i);
    const latin = Uint8Array.from(`<?xml version="1.0" encoding="ISO-8859-1"?>${text}`, (c) =>
      c.charCodeAt(0),
    );
    for (const bytes of [new TextEncoder().encode(text), utf16, latin]) {
      const r = readSvg(bytes);
      expect(r.diagnostics).toEqual([]);
      expect(r.ok && r.value.layers[0]!.name).toBe('Tür');
    }
  });

  it.each<[string, string | Uint8Array, string]>([
    ['nothing', '', 'not-svg'],
    ['a DXF', '0\nSECTION\n', 'not-svg'],
    ['a PDF', '%PDF-1.7\n', 'not-svg'],
    ['a compressed file', new Uint8Array([0x1f, 0x8b, 8, 0]), 'not-svg'],
    ['a page', '<html xmlns="http://www.w3.org/1999/xhtml"><svg/></html>', 'not-svg'],
    ['svg of another kind', '<svg xmlns="urn:other"/>', 'not-svg'],
    ['crossed tags', inside('<g><path></g></path>'), 'malformed-xml'],
    ['two roots', `${inside('')}${inside('')}`, 'malformed-xml'],
    ['an attribute twice', inside('<path d="" d=""/>'), 'malformed-xml'],
    ['elements 300 deep', inside(`${'<g>'.repeat(300)}${'</g>'.repeat(300)}`), 'svg-limit'],
    ['a view box of no size', '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 0 9"/>', 'svg-number'],
    [
      'coordinates beyond measure',
      inside('<g transform="scale(1e8)"><path d="M0 0H90000"/></g>'),
      'svg-number',
    ],
    ['a use of what holds it', inside('<g id="a"><use href="#a"/></g>'), 'use-recursion'],
  ])('refuses %s', (_, source, code) => {
    const r = readSvg(source);
    expect(r.ok).toBe(false);
    expect(r.diagnostics.map((d) => d.code)).toContain(`read/${code}`);
    for (const d of r.diagnostics.filter((x) => x.level === 'error')) expect(d.locus.line).toBeGreaterThan(0);
  });
});

describe('parts', () => {
  it('are found as in a DXF: outlines, cuts and holes, named by their groups', () => {
    const d = drawingOf(
      inside(`
<g id="shelf"><path d="M0 0H600V200H0Z"/><rect x="50" y="50" width="18" height="80"/><circle cx="300" cy="100" r="4"/><text x="400" y="100" font-size="12">Shelf</text></g>
<g id="end"><path d="M0 300H600V400A100 100 0 0 1 500 500H0Z"/></g>`),
    );
    const found = findParts(d, { thickness: 18 });
    if (!found.ok) throw new Error(JSON.stringify(found.diagnostics));
    expect(found.value.map((p) => [p.id, p.name, p.through.length, p.holes.map((h) => h.diameter)])).toEqual([
      ['shelf', 'Shelf', 1, [8]],
      ['end', 'end', 0, []],
    ]);
    expect(ringArea(found.value[1]!.outline.ring)).toBeCloseTo(600 * 200 - 100 * 100 * (1 - Math.PI / 4), 6);
  });

  it('of the sideboard come back from its own picture with the same outlines, cuts and holes', () => {
    const parts = sideboardParts();
    const d = drawingOf(formatSvg(pictureOfParts(parts)));
    expect(d.unit.factor).toBe(1);
    const found = findParts({ ...d, entities: d.entities.filter((e) => !e.layer.startsWith('legend')) });
    if (!found.ok) throw new Error(JSON.stringify(found.diagnostics));
    expect(found.value.map((p) => p.id)).toEqual(parts.map((p) => p.id));
    const shifted = (r: Ring, dx: number, dy: number): Ring => ({
      vertices: r.vertices.map((v) => ({ ...v, x: v.x + dx, y: v.y + dy })),
    });
    let worst = 0;
    found.value.forEach((read: Part, i) => {
      const drawn = partOnTable(parts[i]!);
      const [a, b] = [ringBounds(drawn.outline.ring), ringBounds(read.outline.ring)];
      const rings = (p: Part) => [p.outline, ...p.through].map((c) => c.ring);
      expect(rings(read).length).toBe(rings(drawn).length);
      rings(drawn).forEach((ring, k) => {
        const back = shifted(rings(read)[k]!, a.minX - b.minX, a.minY - b.minY);
        expect(back.vertices.length).toBe(ring.vertices.length);
        worst = Math.max(
          worst,
          ...back.vertices.map((v, j) => Math.hypot(v.x - ring.vertices[j]!.x, v.y - ring.vertices[j]!.y)),
        );
        worst = Math.max(worst, ...back.vertices.map((v, j) => Math.abs(v.bulge - ring.vertices[j]!.bulge)));
      });
      const holes = (p: Part, dx: number, dy: number) =>
        p.holes
          .map((h) => [h.centre.x + dx, h.centre.y + dy, h.diameter].map((n) => n.toFixed(3)).join(' '))
          .sort();
      expect(holes(read, a.minX - b.minX, a.minY - b.minY)).toEqual(holes(drawn, 0, 0));
    });
    // What is left is the noise of the sums that compare them.
    expect(worst).toBeLessThan(1e-9);
  });
});
