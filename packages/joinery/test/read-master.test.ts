import type { Master } from '@haunch/model';
import { describe, expect, it } from 'vitest';
import { formatMaster, readMaster } from '../src/index.js';
import { copy, DEMO_TEXT, demo, type Spoilable } from './demo.js';

/** What a text is refused for: code, path and line of each diagnostic. */
function problems(text: string): string[] {
  const read = readMaster(text, 'piece.json');
  for (const d of read.diagnostics) {
    expect(d.locus.file).toBe('piece.json');
    expect(d.locus.line).toBeGreaterThan(0);
    expect(d.message).not.toMatch(/undefined|NaN|\[object/);
  }
  return read.diagnostics.map((d) => `${d.code} ${d.locus.path ?? `line ${d.locus.line}`}`);
}

/** The example with something spoiled in it. */
function spoiled(change: (m: Spoilable<Master>) => void): string {
  const m = copy(demo);
  change(m);
  return JSON.stringify(m, null, 1);
}

describe('a master', () => {
  it('is read without complaint', () => {
    const read = readMaster(DEMO_TEXT);
    expect(read.diagnostics).toEqual([]);
    expect(demo.parts).toHaveLength(11);
    expect(demo.mates).toHaveLength(23);
    expect(demo.marks).toHaveLength(22);
  });

  it('is the same after writing and reading, and so is its text', () => {
    const text = formatMaster(demo);
    const again = readMaster(text);
    expect(again).toEqual({ ok: true, value: demo, diagnostics: [] });
    expect(formatMaster(again.ok ? again.value : demo)).toBe(text);
  });

  it('is written with one segment a line', () => {
    const lines = formatMaster(demo).split('\n');
    expect(lines).toContain('     {"to": [322, 178], "on": "Y360-RL"},');
    expect(lines).toContain('     {"to": [0, 150], "centre": [-3120, 400], "dir": "cw"},');
    expect(lines.filter((l) => l.includes('"to"') || l.includes('"axis"')).every((l) => l.length < 160)).toBe(
      true,
    );
  });
});

const CUT_OFF = DEMO_TEXT.slice(0, 5000).trimEnd();

describe('a text that is not a master', () => {
  it.each([
    ['', 'master/malformed-json line 1'],
    ['999\r\nrack\r\n  0\r\nSECTION\r\n', 'master/drawing line 1'],
    ['  0\nSECTION\n', 'master/drawing line 1'],
    ['<?xml version="1.0"?>\n<svg/>', 'master/drawing line 1'],
    ['0', 'master/value line 1'],
    ['{\n "format": "haunch-master",\n "version" 1\n}', 'master/malformed-json line 3'],
    [CUT_OFF, `master/malformed-json line ${CUT_OFF.split('\n').length}`],
  ])('is refused with the line', (text, problem) => {
    expect(problems(text)).toEqual([problem]);
  });

  it.each(['null', '[]', '1', '"x"', '{}'])('such as %s is refused', (text) => {
    expect(problems(text).every((p) => p.startsWith('master/value'))).toBe(true);
    expect(problems(text).length).toBeGreaterThan(0);
  });

  it('has every wrong field named by its path', () => {
    const text = spoiled((m) => {
      const loose = m as unknown as { version: unknown; parts: Record<string, never>[] };
      loose.version = 2;
      Object.assign(m.parts[3]!.outline.segments[2]!, { to: [1, 'x'] });
      Object.assign(m.parts[0]!, { hold: 'top', colour: 'red' });
      Object.assign(m.parts[1]!, { id: '17' });
      Object.assign(m.parts[2]!.pockets[0]!, { depth: -8 });
      Object.assign(m.parts[4]!.outline.segments[1]!, { centre: [0, 0] });
      Object.assign(m.mates[0]!, { enteringMoves: 'left' });
    });
    expect(problems(text)).toEqual([
      'master/value version',
      'master/value parts[0].hold',
      'master/value parts[0]',
      'master/value parts[1].id',
      'master/value parts[2].pockets[0].depth',
      'master/value parts[3].outline.segments[2].to[1]',
      'master/value parts[4].outline.segments[1]',
      'master/value mates[0].enteringMoves',
    ]);
  });
});

describe('a master that cannot be meant', () => {
  it.each<[string, (m: Spoilable<Master>) => void, string[]]>([
    [
      'two marks of one id',
      (m) => {
        m.marks.push({ ...m.marks[0]!, constant: 0 });
      },
      ['master/same-id marks[22].id'],
    ],
    [
      'two features of one id',
      (m) => {
        m.parts[0]!.through[1]!.id = 'EL.m1';
        m.mates[0]!.slotFeatures = ['EL.m1'];
      },
      ['master/same-id parts[0].through[1].id'],
    ],
    [
      'two mates of one id',
      (m) => {
        m.mates[1]!.id = 'M-EL-S1';
      },
      ['master/same-id mates[1].id'],
    ],
    [
      'a mark that does not exist',
      (m) => {
        m.parts[0]!.outline.segments[6]!.on = 'Y360-RX';
        m.parts[1]!.frame.on = 'X1060';
      },
      ['master/unknown-mark parts[0].outline.segments[6].on', 'master/unknown-mark parts[1].frame.on'],
    ],
    [
      'a mark of a part that does not exist',
      (m) => {
        m.marks[0]!.terms = { EX: -1 };
      },
      ['master/unknown-part marks[0].terms.EX'],
    ],
    [
      'mates and steps of parts that do not exist',
      (m) => {
        m.mates[0]!.enteringPart = 'S9';
        m.assembly[0]!.moving = ['S8'];
      },
      ['master/unknown-part mates[0].enteringPart', 'master/unknown-part assembly[0].moving[0]'],
    ],
    [
      'a mate of a part with itself',
      (m) => {
        m.mates[0]!.enteringPart = 'EL';
      },
      ['master/self-mate mates[0].enteringPart'],
    ],
    [
      'a feature that does not exist; words with spaces are words',
      (m) => {
        m.mates[0]!.slotFeatures = ['EL.m1', 'EL.m9', 'the edge at the rear'];
      },
      ['master/unknown-feature mates[0].slotFeatures[1]'],
    ],
    [
      'an open loop',
      (m) => {
        m.parts[0]!.through[0]!.loop.segments[3]!.to = [70, 100.5];
      },
      ['master/open-loop parts[0].through[0].loop.segments[3].to'],
    ],
    [
      'an empty segment',
      (m) => {
        m.parts[0]!.through[0]!.loop.segments.splice(2, 0, { to: [150, 118] });
      },
      ['master/empty-segment parts[0].through[0].loop.segments[2].to'],
    ],
    [
      'an arc with two radii',
      (m) => {
        m.parts[2]!.outline.segments[1]!.centre = [1070, 30.01];
      },
      ['master/unequal-radii parts[2].outline.segments[1].centre'],
    ],
    [
      'a loop that crosses itself',
      (m) => {
        const { segments } = m.parts[0]!.through[4]!.loop;
        [segments[0], segments[1]] = [{ to: [58, 85] }, { to: [58, 45] }];
      },
      ['master/crossing-loop parts[0].through[4].loop'],
    ],
    [
      'an arc that takes away what cuts lie in',
      (m) => {
        // The end's front edge hollowed by a half circle of 250: one mortise is off the plate, one half off.
        m.parts[0]!.outline.segments[21]!.centre = [0, 400];
        m.parts[0]!.holes = [];
      },
      ['master/stray-cut parts[0].through[2].loop', 'master/stray-cut parts[0].through[3].loop'],
    ],
    [
      'a cut that runs out of the plate',
      (m) => {
        for (const s of m.parts[2]!.through[0]!.loop.segments)
          s.to = [s.to[0], s.to[1] === 70 ? -5 : s.to[1]];
        m.parts[2]!.through[0]!.loop.start = [40, -5];
      },
      ['master/stray-cut parts[2].through[0].loop'],
    ],
    [
      'a cut beside the plate',
      (m) => {
        m.parts[0]!.holes = [];
        const { loop } = m.parts[0]!.through[4]!;
        loop.start = [540, 45];
        loop.segments = [{ to: [558, 45] }, { to: [558, 85] }, { to: [540, 85] }, { to: [540, 45] }];
      },
      ['master/stray-cut parts[0].through[4].loop'],
    ],
    [
      'a cut inside another',
      (m) => {
        const { loop } = m.parts[0]!.through[4]!;
        loop.start = [80, 105];
        loop.segments = [{ to: [90, 105] }, { to: [90, 110] }, { to: [80, 110] }, { to: [80, 105] }];
      },
      ['master/stray-cut parts[0].through[0].loop'],
    ],
    [
      'a left-handed frame',
      (m) => {
        m.parts[0]!.frame.n = '-X';
      },
      ['master/frame parts[0].frame.n'],
    ],
    [
      'a frame that is not square or not of unit length',
      (m) => {
        m.parts[0]!.frame.u = [0.6, 0.8, 0.1];
        m.parts[2]!.frame.v = [0.6, 0.8, 0];
      },
      ['master/frame parts[0].frame.u', 'master/frame parts[2].frame.v'],
    ],
    [
      'a direction that is not of unit length',
      (m) => {
        m.mates[0]!.enteringMoves = [-2, 0, 0];
        m.assembly[0]!.move = [0, 0, 0];
      },
      ['master/direction mates[0].enteringMoves', 'master/direction assembly[0].move'],
    ],
    [
      'an edge, a centre and a frame off their marks',
      (m) => {
        m.marks.find((k) => k.id === 'Z675-TOP')!.constant = 675.01;
        m.marks.find((k) => k.id === 'X370-D1/2')!.constant = 371;
        m.parts[9]!.frame.origin = [40, 78.5, 40];
      },
      [
        'master/off-mark parts[7].through[0].loop.segments[0].on',
        'master/off-mark parts[9].frame.on',
        'master/off-mark parts[10].outline.segments[1].on',
      ],
    ],
    [
      "a mark in the plate's own plane, and one that a frame cannot follow",
      (m) => {
        m.parts[0]!.through[0]!.loop.segments[0]!.on = 'X40+EL';
        m.parts[9]!.frame.on = 'X40+EL';
      },
      ['master/mark-misses parts[0].through[0].loop.segments[0].on', 'master/mark-misses parts[9].frame.on'],
    ],
  ])('for %s', (_, change, expected) => {
    expect(problems(spoiled(change))).toEqual(expected);
  });

  it('warns of a hold that the mark does not keep, and still reads it', () => {
    const read = readMaster(
      spoiled((m) => {
        m.parts[0]!.hold = 'n+';
        m.parts[5]!.hold = 'n-';
      }),
    );
    expect(read.ok).toBe(true);
    expect(read.diagnostics.map((d) => `${d.level} ${d.code} ${d.message}`)).toEqual([
      'warning master/hold-disagrees "hold" says n+, but by its mark face n- stays put',
      'warning master/hold-disagrees "hold" says n-, but by its mark the mid-plane stays put',
    ]);
  });

  it('has several problems reported together', () => {
    const text = spoiled((m) => {
      m.marks[3]!.id = m.marks[4]!.id;
      m.parts[0]!.frame.n = '-X';
      m.parts[0]!.through[0]!.loop.segments[3]!.to = [70, 100.5];
      m.mates[4]!.slotPart = 'nowhere';
    });
    expect(new Set(problems(text).map((p) => p.split(' ')[0]))).toEqual(
      new Set([
        'master/same-id',
        'master/frame',
        'master/open-loop',
        'master/unknown-part',
        'master/unknown-mark',
        'master/off-mark',
      ]),
    );
  });
});
