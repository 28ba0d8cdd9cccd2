/// <reference types="node" />
import { existsSync, readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { type ReadDxfOptions, thicknessSupport } from '../src/index.js';
import { readAll } from './fixtures.js';
import expected from './real-drawings.expected.json' with { type: 'json' };
import { ROOT } from './sideboard.js';

// Public drawings that nobody of this project drew. They are not part of the repository, for their licences differ.
const FOLDER = resolve(ROOT, '../shared/drawings');
const HERE = existsSync(FOLDER);

/** Where the program is known to count otherwise than a person, with the reason; a change either way must be seen. */
const OTHERWISE: Readonly<Record<string, { parts: number; cuts: number; why: string }>> = {
  'G18.dxf': { parts: 1, cuts: 2, why: '27 spline contours are taken for engraving, and said to be' },
  'G22.dxf': { parts: 9, cuts: 0, why: 'a plate that only the edges of its neighbours enclose is missed' },
  'L04.dxf': {
    parts: 6,
    cuts: 0,
    why: 'six loose circles are discs by geometry; only their block name says holes',
  },
};
const REFUSED: Readonly<Record<string, string>> = {
  'L01.dxf': 'read/crossing-curves',
  'L02.dxf': 'read/no-parts',
  'L05.dxf': 'read/crossing-curves',
};

const UNITS: Readonly<Record<string, NonNullable<ReadDxfOptions['unit']>>> = { mm: 'mm', m: 'm', in: 'inch' };

describe.runIf(HERE)('public drawings, against a person who looked', () => {
  it.each(expected.drawings.map((d) => [d.file, d] as const))(
    '%s has as many parts and cuts as were seen',
    (file, seen) => {
      const unit = UNITS[seen.units];
      const { parts, diagnostics } = readAll(readFileSync(resolve(FOLDER, file)), {
        file,
        ...(unit === undefined ? {} : { unit }),
      });
      const refusal = REFUSED[file];
      if (refusal !== undefined) {
        expect(seen.parts).toBe(0);
        expect(diagnostics.filter((d) => d.level === 'error').map((d) => d.code)).toContain(refusal);
        return;
      }
      const cuts = parts!.reduce((sum, p) => sum + p.through.length + p.holes.length, 0);
      const other = OTHERWISE[file];
      if (other) expect([other.parts, other.cuts], other.why).not.toEqual([seen.parts, seen.throughCuts]);
      expect([parts!.length, cuts], other?.why).toEqual(
        other ? [other.parts, other.cuts] : [seen.parts, seen.throughCuts],
      );
      const likeliest = thicknessSupport(parts!)[0]?.value;
      if (seen.thickness === null) expect(likeliest).toBeUndefined();
      else expect(likeliest).toBeCloseTo(seen.thickness, 2);
    },
  );
});
