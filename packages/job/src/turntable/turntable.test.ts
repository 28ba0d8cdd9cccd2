import { type Clip, loadClip } from '@haunch/geometry';
import { beforeAll, describe, expect, it } from 'vitest';
import { stored } from '../../test/paper/stored.js';
import { type TurntableData, turntableData } from './turntable-data.js';
import { turntableHtml } from './turntable-html.js';
import { TURNTABLE_SCRIPT } from './turntable-script.js';

const { master } = stored().pieces[0]!;
let clip: Clip;
let data: TurntableData;
beforeAll(async () => {
  clip = await loadClip();
  data = turntableData(master, clip);
});

describe('the data of a turntable', () => {
  it('has flat sides: every place of a side lies in its plane, to the tenth of a millimetre that is kept', () => {
    const at = (i: number): number[] => data.points.slice(3 * i, 3 * i + 3).map((v) => v / 10);
    for (const part of data.parts)
      for (const { n, loops } of part.faces) {
        expect(Math.hypot(...n)).toBeCloseTo(1, 2);
        const height = (i: number): number => at(i).reduce((sum, v, k) => sum + v * n[k]!, 0);
        for (const i of loops.flat()) expect(Math.abs(height(i) - height(loops[0]![0]!))).toBeLessThan(0.6);
      }
  });

  it('moves every part by the steps of its assembly, and takes it apart the other way', () => {
    expect(data.parts.map((p) => p.id)).toEqual(master.parts.map((p) => p.id));
    const moved = new Set(data.steps.flatMap((s) => [...s.moving, ...s.standing]));
    expect(moved.size).toBe(data.parts.length);
    expect(data.parts.some((p) => Math.hypot(...p.apart) > 10)).toBe(true);
  });

  it('survives being written in the page, whatever the title holds', () => {
    const html = turntableHtml({ ...data, title: '</script><b>&"Ж' });
    expect(html).not.toMatch(/<b>/);
    const [, json] = /<script type="application\/json">(.*?)<\/script>/s.exec(html)!;
    expect(JSON.parse(json!)).toEqual({ ...data, title: '</script><b>&"Ж' });
  });

  it('is drawn by a script that is one and loads nothing', () => {
    expect(() => new Function(TURNTABLE_SCRIPT)).not.toThrow();
    expect(TURNTABLE_SCRIPT).not.toMatch(/fetch|import|https?:|src=/);
  });
});
