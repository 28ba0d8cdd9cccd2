import { loadClip } from '@haunch/geometry';
import type { Made, MadeBoard } from '@haunch/job';
import type { Proof } from '@haunch/model';
import { readProgram } from '@haunch/nc/read';
import { proveProgram } from '@haunch/proof';
import { beforeAll, describe, expect, it } from 'vitest';
import { linesOfStep, wallMoved, wordBefore } from './edited-program.js';
import { madeSideboard } from './sideboard.js';

describe('the text is judged, not the plan', () => {
  let made: Made;
  let sheet: MadeBoard;
  let prove: (text: string) => Proof;
  beforeAll(async () => {
    made = await madeSideboard();
    sheet = made.boards[0]!;
    const clip = await loadClip();
    prove = (text) => {
      const proved = proveProgram({
        text,
        board: sheet.board,
        items: sheet.items,
        joints: made.laid.fitted.joinery.joints,
        thicknesses: made.laid.thicknesses,
        cutters: made.job.cutters,
        machine: made.job.machine,
        holding: made.job.holding,
        clip,
      });
      if (!proved.ok) throw new Error(JSON.stringify(proved.diagnostics));
      return proved.value.proof;
    };
  }, 120_000);

  const fitsOf = (p: Proof) => new Map(p.joints.flatMap((j) => j.fits.map((f) => [f.fit, f] as const)));

  it.each([
    ['M-S1-D1:S1.m1:thickness', 'S1.m1'],
    ['M-EL-S2:EL.m3:thickness', 'EL.m3'],
    ['M-TOP-EL:TOP.m1:thickness', 'TOP.m1'],
  ])(
    '%s follows its wall by 0.050 mm, and no other place in the piece does',
    (fit, feature) => {
      const before = fitsOf(sheet.proof);
      const text = wallMoved(sheet, feature, before.get(fit)!.lines[0]!, 0.05);
      expect(text).not.toBe(sheet.program.text);
      expect(readProgram(text).diagnostics.filter((d) => d.level === 'error')).toEqual([]);
      const after = fitsOf(prove(text));
      const moved = [...after].filter(
        ([id, f]) => Math.abs((f.least ?? 0) - (before.get(id)!.least ?? 0)) > 0.0005,
      );
      expect(moved.map(([id]) => id)).toEqual([fit]);
      expect(Math.abs(Math.abs(after.get(fit)!.least! - before.get(fit)!.least!) - 0.05)).toBeLessThanOrEqual(
        0.002,
      );
    },
    60_000,
  );

  it('one sign turned in an arc word of an outline is refused with line, part and joint', () => {
    const { lines, from, to } = linesOfStep(sheet.program.text, 'EL.outline');
    // A word of less than a micrometre or two moves no wall, whatever its sign; the first that is larger is turned.
    const turn = (text: string): string => {
      let done = false;
      return text.replace(/([IJ])(-?)([\d.]+)/g, (word, c, sign, n) => {
        if (done || Number(n) < 0.01) return word;
        done = true;
        return `${c}${sign ? '' : '-'}${n}`;
      });
    };
    const arcs = lines
      .map((text, i) => ({ text, i, turned: turn(text) }))
      .filter((l) => l.i > from && l.i < to && l.turned !== l.text);
    expect(arcs.length).toBeGreaterThan(50);
    for (const { i, turned } of [2, 10, 20, 30, 40, 50].map((k) => arcs[k]!)) {
      const proof = prove([...lines.slice(0, i), turned, ...lines.slice(i + 1)].join('\n'));
      expect(proof.pass, turned).toBe(false);
      const finding = proof.rules.filter((r) => r.verdict === 'fail').flatMap((r) => r.findings)[0]!;
      // An arc that cannot be drawn is named by where the cutter stands: a mortise may be nearer than the outline.
      expect(finding, turned).toMatchObject({ line: i + 1, part: 'EL' });
      if (finding.feature !== 'EL.outline') {
        // A large arc that runs on into a mortise, or past it through the face, is told on the edge of its own sweep.
        const word = (letter: string): number =>
          Number(new RegExp(`${letter}(-?[\\d.]+)`).exec(turned)?.[1] ?? 0);
        const [ci, cj] = [word('I'), word('J')];
        const x = Number(wordBefore(lines, i, 'X')) + ci;
        const y = Number(wordBefore(lines, i, 'Y')) + cj;
        const off = Math.abs(Math.hypot(finding.at!.x - x, finding.at!.y - y) - Math.hypot(ci, cj));
        expect(off, turned).toBeCloseTo(made.job.cutters.find((c) => c.id === 'router-6')!.diameter / 2, 2);
        expect(finding.feature, turned).toMatch(/^EL\.m\d$/);
        if (!finding.message.startsWith('The face of EL is cut')) expect(finding.jointDistance).toBe(0);
      }
      expect(finding.joint).toMatch(/^M-/);
    }
  }, 120_000);

  it("one tab's moves deleted is refused: the part hangs on one tab too few", () => {
    const { lines, from, to } = linesOfStep(sheet.program.text, 'D1.outline');
    const up = lines.findIndex((l, i) => i > from && i < to && /Z3(?![\d.])/.test(l));
    expect(up).toBeGreaterThan(from);
    const without = lines.filter((_, i) => i < up || i > up + 2);
    const proof = prove(without.join('\n'));
    const held = proof.rules.find((r) => r.rule === 'P11')!;
    expect(held.verdict).toBe('fail');
    expect(held.findings[0]).toMatchObject({ part: 'D1' });
    expect(proof.pass).toBe(false);
  }, 60_000);

  it.each([
    ['the spindle never started', (t: string) => t.replace(/^S18000 M3$/m, '(silent)'), 'P03'],
    ['inches said instead of millimetres', (t: string) => t.replace('G21', 'G20'), 'P09'],
    ['a retract left out', (t: string) => t.replace(/Z27\.7 F8000\n\(sheet-1\/060/, '(sheet-1/060'), 'P04'],
    ['the last passes lost', (t: string) => t.replaceAll('Z-0.3', 'Z2'), 'P09'],
    ['a cut into the bed', (t: string) => t.replaceAll('Z-0.3', 'Z-1.2'), 'P06'],
    ['the end cut off', (t: string) => t.slice(0, Math.floor(t.length * 0.7)), 'P17'],
    ['the wrong cutter called', (t: string) => t.replace(/^T1 M6/m, 'T2 M6'), 'P09'],
  ])(
    '%s is refused',
    (_, edit, rule) => {
      const text = edit(sheet.program.text);
      expect(text).not.toBe(sheet.program.text);
      const proof = prove(text);
      expect(proof.pass).toBe(false);
      expect(proof.rules.filter((r) => r.verdict === 'fail').map((r) => r.rule)).toContain(rule);
    },
    60_000,
  );
});
