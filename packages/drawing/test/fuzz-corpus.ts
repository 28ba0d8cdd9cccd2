import { binaryDxf, block, dxfText, groups } from './dxf-text.js';

/** A file to be spoilt. */
export interface Sample {
  readonly name: string;
  readonly format: 'dxf' | 'binary dxf' | 'svg';
  readonly bytes: Uint8Array;
}

const xyz = (code: number, x: number, y: number, z = 0): string =>
  groups(code, x, code + 10, y, code + 20, z);
const numbers = (code: number, ...values: readonly number[]): string =>
  values.map((v) => groups(code, v)).join('');
const points = (code: number, ...all: readonly (readonly [number, number])[]): string =>
  all.map(([x, y]) => xyz(code, x, y)).join('');
const BEHIND = xyz(210, 0, 0, -1);
const head = (type: string, layer = 'CUT', ...more: readonly (string | number)[]): string =>
  groups(0, type, 5, 'A1', 100, 'AcDbEntity', 8, layer, ...more);

const RIGHT = [
  [0, 0],
  [40, 0],
  [40, 30],
] as const;

/** Each kind of entity in its ways, by the type that the file calls it. */
const ENTITIES: Readonly<Record<string, readonly string[]>> = {
  LINE: [
    head('LINE') + xyz(10, 1, 2) + xyz(11, 30, 4),
    head('LINE') + groups(10, 1, 11, 30, 20, 2, 21, 4) + BEHIND,
  ],
  '3DLINE': [head('3DLINE') + groups(38, 2) + groups(10, 1, 20, 2, 11, 9, 21, 8)],
  ARC: [
    head('ARC') + xyz(10, 5, 5) + groups(40, 8, 50, 350, 51, 80),
    head('ARC') + xyz(10, 5, 5, 2) + groups(40, 8, 50, 10, 51, 5) + BEHIND,
  ],
  CIRCLE: [head('CIRCLE', 'CUT', 39, 6, 62, 1) + xyz(10, 60, 5, -6) + groups(40, 3.5)],
  ELLIPSE: [
    head('ELLIPSE') + xyz(10, 9, 9) + xyz(11, 20, 5) + groups(40, 0.4, 41, 0, 42, 2 * Math.PI),
    head('ELLIPSE') + xyz(10, 9, 9) + xyz(11, 20, 5) + BEHIND + groups(40, 0.02, 41, 5, 42, 1.5),
  ],
  LWPOLYLINE: [
    head('LWPOLYLINE', 'CUT', 90, 4, 70, 1, 38, -3, 39, 3) +
      groups(10, 0, 20, 0, 10, 90, 20, 0, 42, 0.5, 10, 90, 20, 60, 10, 0, 20, 60, 42, -1),
    head('LWPOLYLINE', 'CUT', 90, 2, 70, 0) + groups(10, 0, 20, 0, 42, 1e6, 10, 5, 20, 5) + BEHIND,
  ],
  POLYLINE: [
    head('POLYLINE', 'CUT', 66, 1, 70, 1) +
      RIGHT.map(([x, y]) => head('VERTEX', 'CUT', 42, 0.3) + xyz(10, x, y)).join('') +
      head('SEQEND'),
    head('POLYLINE', 'CUT', 66, 1, 70, 8) +
      RIGHT.map(([x, y]) => head('VERTEX', 'CUT', 70, 32) + xyz(10, x, y, 4)).join('') +
      head('SEQEND'),
    head('POLYLINE', 'CUT', 66, 1, 70, 64, 71, 4) +
      head('VERTEX', 'CUT', 70, 128) +
      xyz(10, 1, 2, 3) +
      head('SEQEND'),
    head('POLYLINE', 'CUT', 66, 1, 70, 4) +
      RIGHT.map(([x, y], i) => head('VERTEX', 'CUT', 70, i === 1 ? 16 : 8) + xyz(10, x, y)).join('') +
      head('SEQEND'),
  ],
  SPLINE: [
    head('SPLINE', 'CUT', 70, 8, 71, 3, 72, 9, 73, 5, 74, 0) +
      numbers(40, 0, 0, 0, 0, 0.5, 1, 1, 1, 1) +
      points(10, [0, 0], [10, 20], [30, 30], [50, 10], [60, 0]),
    head('SPLINE', 'CUT', 70, 12, 71, 2, 72, 6, 73, 3) +
      numbers(40, 0, 0, 0, 1, 1, 1) +
      numbers(41, 1, Math.SQRT1_2, 1) +
      points(10, [25, 0], [25, 25], [0, 25]),
    head('SPLINE', 'CUT', 70, 11, 71, 3, 72, 11, 73, 7) +
      numbers(40, 0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10) +
      points(10, [0, 0], [60, 0], [60, 60], [0, 60], [0, 0], [60, 0], [60, 60]),
    head('SPLINE', 'CUT', 70, 8, 71, 3, 74, 4) +
      points(11, [0, 0], [30, 10], [60, -5], [90, 0]) +
      xyz(12, 1, 1) +
      xyz(13, 1, -1),
    head('SPLINE', 'CUT', 70, 9, 71, 3, 74, 4) + points(11, [0, 0], [50, 0], [50, 50], [0, 50]),
  ],
  POINT: [head('POINT') + xyz(10, 12, 13, 1)],
  TEXT: [
    head('TEXT', 'NAMES') + xyz(10, 5, 6) + groups(40, 4, 1, 'Side %%c12 \\U+00E4', 50, 30),
    head('TEXT', 'NAMES') + xyz(10, 5, 6) + groups(40, 4, 1, 'X') + BEHIND,
  ],
  MTEXT: [
    head('MTEXT', 'NAMES') +
      xyz(10, 5, 6) +
      groups(40, 4, 3, '{\\fFont|b0;Shelf \\S1/2;', 1, '\\H2.5x;18}\\Pupper^Jface', 11, 1, 21, 1, 31, 0),
  ],
  HATCH: [
    head('HATCH') +
      xyz(10, 0, 0) +
      groups(2, 'SOLID', 70, 1, 71, 0, 91, 2, 92, 2, 72, 1, 73, 1, 93, 3) +
      groups(10, 0, 20, 0, 42, 0.2, 10, 90, 20, 0, 42, 0, 10, 90, 20, 50, 42, 0, 97, 0) +
      groups(
        92,
        1,
        93,
        4,
        72,
        1,
        10,
        20,
        20,
        20,
        11,
        40,
        21,
        20,
        72,
        2,
        10,
        30,
        20,
        20,
        40,
        10,
        50,
        350,
        51,
        90,
        73,
        0,
      ) +
      groups(72, 3, 10, 0, 20, 0, 11, 20, 21, 0, 40, 0.5, 50, 180, 51, 360, 73, 1) +
      groups(
        72,
        4,
        94,
        2,
        73,
        1,
        74,
        0,
        95,
        6,
        96,
        3,
        40,
        0,
        40,
        0,
        40,
        0,
        40,
        1,
        40,
        1,
        40,
        1,
        10,
        0,
        20,
        0,
        42,
        1,
        10,
        5,
        20,
        9,
        42,
        0.5,
        10,
        9,
        20,
        0,
        42,
        1,
        97,
        2,
        11,
        0,
        21,
        0,
        11,
        9,
        21,
        0,
        12,
        1,
        22,
        1,
        13,
        1,
        23,
        -1,
      ) +
      groups(97, 0, 75, 0, 76, 1, 98, 1, 10, 1, 20, 1),
  ],
  SOLID: [
    head('SOLID') +
      points(10, [0, 0]) +
      points(11, [40, 0]) +
      points(12, [0, 30]) +
      points(13, [40, 30]) +
      BEHIND,
  ],
  TRACE: [head('TRACE') + points(10, [0, 0]) + points(11, [40, 0]) + points(12, [0, 30])],
  INSERT: [
    head('INSERT', 'CUT', 2, 'OUTER', 66, 1) +
      xyz(10, 100, 50) +
      groups(41, 2, 42, -1, 43, 1, 50, 30, 70, 3, 71, 2, 44, 40, 45, 35) +
      head('ATTRIB', 'NAMES', 1, 'Left', 2, 'TAG', 40, 3, 70, 0) +
      xyz(10, 1, 1) +
      head('SEQEND'),
    head('INSERT', 'CUT', 2, 'inner') + xyz(10, 7, 7) + groups(41, -3, 42, 0.5) + BEHIND,
  ],
  ATTRIB: [head('ATTRIB', 'NAMES', 1, 'Left', 2, 'TAG', 40, 3, 70, 1) + xyz(10, 1, 1)],
  ATTDEF: [head('ATTDEF', 'NAMES', 1, 'Left', 2, 'TAG', 3, 'ask', 40, 3, 70, 2) + xyz(10, 1, 1)],
};

/** What is only counted: the rows of annotations, and types that nobody reads. */
const COUNTED = [
  ...[
    'DIMENSION',
    'ARC_DIMENSION',
    'LARGE_RADIAL_DIMENSION',
    'LEADER',
    'MULTILEADER',
    'MLEADER',
    'TOLERANCE',
  ],
  ...['ACAD_TABLE', 'VIEWPORT', 'IMAGE', 'WIPEOUT', 'RAY', 'XLINE', '3DFACE', 'MLINE', 'REGION'],
];

const BLOCKS =
  block('INNER', head('CIRCLE', '0') + xyz(10, 1, 1) + groups(40, 2) + ENTITIES.LWPOLYLINE![0]!, [1, 1]) +
  block(
    'OUTER',
    head('INSERT', '0', 2, 'INNER') +
      xyz(10, 3, 4) +
      groups(41, 1.5, 42, 0.5, 70, 2, 44, 9) +
      ENTITIES.ARC![0]! +
      ENTITIES.ATTDEF![0]!,
  );
const layer = (name: string, flags: number, colour: number): string =>
  groups(0, 'LAYER', 2, name, 70, flags, 62, colour, 6, 'CONTINUOUS');
const TABLES =
  groups(0, 'TABLE', 2, 'LAYER', 70, 3) +
  layer('CUT', 0, 1) +
  layer('NAMES', 1, 3) +
  layer('OFF', 0, -5) +
  groups(0, 'ENDTAB');
const headerOf = (version: string, page = 'ANSI_1252'): string =>
  groups(
    9,
    '$ACADVER',
    1,
    version,
    9,
    '$DWGCODEPAGE',
    3,
    page,
    9,
    '$INSUNITS',
    70,
    4,
    9,
    '$MEASUREMENT',
    70,
    1,
    9,
    '$EXTMIN',
  ) + xyz(10, 0, 0);

const encode = (text: string): Uint8Array => new TextEncoder().encode(text);
const ansi = (text: string): Uint8Array => Uint8Array.from(text, (c) => c.charCodeAt(0) & 255);

/** A file for each kind of entity, and mixed ones in every form and age of the format. */
function dxfSamples(): Sample[] {
  const kinds = Object.entries(ENTITIES).map(([type, ways]): Sample => {
    const text = dxfText(ways.join(''), { header: headerOf('AC1015'), tables: TABLES, blocks: BLOCKS });
    return { name: type, format: 'dxf', bytes: encode(text) };
  });
  const counted = COUNTED.map((type) => head(type) + xyz(10, 1, 1)).join('');
  const all =
    Object.values(ENTITIES)
      .map((ways) => ways.join(''))
      .join('') + counted;
  const junk = groups(
    1001,
    'APP',
    1070,
    '',
    1071,
    '',
    1000,
    'x',
    1002,
    '{',
    1010,
    1,
    1020,
    2,
    1030,
    3,
    1002,
    '}',
    1004,
    '00FF',
  );
  const mixed = (version: string, name = 'SEITE'): string =>
    groups(999, 'Unit: mm') +
    dxfText(all + head('LINE', name) + xyz(10, 0, 0) + xyz(11, 9, 9) + junk, {
      header: headerOf(version),
      tables: TABLES,
      blocks: BLOCKS,
    });
  const short = (version: string): string =>
    dxfText([...'LINE ARC LWPOLYLINE SPLINE INSERT'.split(' ')].map((k) => ENTITIES[k]![0]!).join(''), {
      header: headerOf(version),
      tables: TABLES,
      blocks: BLOCKS,
    });
  const old =
    groups(0, 'SECTION', 2, 'ENTITIES') +
    ENTITIES.POLYLINE![0]! +
    ENTITIES['3DLINE']![0]! +
    groups(0, 'ENDSEC', 0, 'EOF');
  const utf16 = Uint8Array.from([
    0xff,
    0xfe,
    ...[...short('AC1015')].flatMap((c) => [c.charCodeAt(0) & 255, 0]),
  ]);
  const text = (name: string, bytes: Uint8Array): Sample => ({ name, format: 'dxf', bytes });
  const binary = (name: string, source: string, wide: 1 | 2): Sample => ({
    name,
    format: 'binary dxf',
    bytes: binaryDxf(source, wide),
  });
  return [
    ...kinds,
    text('mixed', encode(mixed('AC1015'))),
    text('mixed CRLF', encode(mixed('AC1009').replaceAll('\n', '\r\n'))),
    text('short CR', encode(short('AC1009').replaceAll('\n', '\r'))),
    text('release 9', encode(old)),
    text('code page', ansi(mixed('AC1015', 'TÜR'))),
    text('UTF-8', encode(mixed('AC1032', 'TÜR あ'))),
    text('UTF-16', utf16),
    binary('binary release 12', short('AC1009'), 1),
    binary('binary 2000', short('AC1015'), 2),
    ...Object.entries(ENTITIES).map(([type, ways]) =>
      binary(`binary ${type}`, dxfText(ways.join(''), { header: headerOf('AC1018'), blocks: BLOCKS }), 2),
    ),
  ];
}

/** Each kind of element in its ways. */
const ELEMENTS: Readonly<Record<string, string>> = {
  path: '<path d="M0 0H200V80C200 120 160 120 120 80S60 40 40 90q-10 20-20 0t-20-10zm5 5l3 4h2v1a5 3 30 1 0 9 8A1 1 0 0110 10.5e0L-.5-.5"/>',
  rect: '<rect x="1" y="2" width="30" height="20" rx="4" ry="2"/><rect width="10%" height="5mm"/>',
  circle: '<circle cx="40" cy="40" r="8" transform="scale(1 2)"/>',
  ellipse: '<ellipse cx="45" cy="20" rx="60" ry="20" transform="matrix(1 .2 -.3 1 5 6)"/>',
  line: '<line x1="1cm" y1="5%" x2="2in" y2="3em" style="stroke:red;stroke-dasharray:4 2"/>',
  polyline: '<polyline points="310 30 320 30,320-40"/>',
  polygon: '<polygon points="300,20 400,20 400,120 300,120"/>',
  text: '<text x="30" y="20" font-size="4">Shelf<tspan x="30" dy="5">left &amp; right</tspan></text>',
  g: '<g id="shelf" transform="translate(10 10) rotate(15 20 30) skewX(5)" display="inline"><circle r="3"/></g>',
  use: '<defs><g id="peg"><circle r="4"/></g></defs><use xlink:href="#peg" x="350" y="60"/><use href="#peg" transform="rotate(9)"/>',
  symbol:
    '<symbol id="slot" viewBox="0 0 10 10" preserveAspectRatio="xMidYMax slice"><rect width="10" height="10"/></symbol><use href="#slot" width="50" height="30"/>',
  svg: '<svg x="20" y="20" width="100" height="80" viewBox="0 0 10 10"><path d="M1 1A3 2 30 1 0 9 8Z"/></svg>',
  switch: '<switch><foreignObject requiredExtensions="x"/><rect width="50" height="40"/></switch>',
  style:
    '<style>.fold{stroke-dasharray:4 2} g.off .cut{display:none} #axis{stroke:none}</style><g class="off"><path class="cut fold" id="axis" d="M0 0L9 9"/></g>',
  clipPath:
    '<clipPath id="c"><rect width="9" height="9"/></clipPath><rect clip-path="url(#c)" width="20" height="20"/>',
  image: '<image href="x" width="3" height="3"/>',
};

function svgSamples(): Sample[] {
  const whole = (body: string, size = 'width="600mm" height="400mm" viewBox="0 0 600 400"'): string =>
    `<?xml version="1.0" encoding="UTF-8"?>\n<!DOCTYPE svg [<!ENTITY n "1">]>\n<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" version="1.1" ${size} stroke="black" fill="none">\n${body}\n</svg>\n`;
  const sample = (name: string, text: string): Sample => ({ name, format: 'svg', bytes: encode(text) });
  return [
    ...Object.entries(ELEMENTS).map(([name, body]) => sample(`svg ${name}`, whole(body))),
    sample('svg mixed', whole(Object.values(ELEMENTS).join('\n'))),
    sample('svg without size', whole(Object.values(ELEMENTS).join(''), '')),
    sample(
      'svg stretched',
      whole(ELEMENTS.circle!, 'width="10cm" height="90" viewBox="-5 -5 10 20" preserveAspectRatio="none"'),
    ),
  ];
}

/** All files that are spoilt. Every kind of entity that is read, every form of the format, every SVG element. */
export const SAMPLES: readonly Sample[] = [...dxfSamples(), ...svgSamples()];
/** The types of DXF entities that the samples hold. */
export const SAMPLED_TYPES: readonly string[] = [...Object.keys(ENTITIES), ...COUNTED];
