import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readJob } from './job.js';
import { layJob, layoutQuestion } from './lay-job.js';
import { ALIKE, likeThickness } from './like-thickness.js';
import { loadPieces } from './load-pieces.js';
import { meanThickness } from './placed-thickness.js';

const dir = new URL('../../../docs/examples/reading-stand/', import.meta.url);
const written = readFileSync(new URL('job.json', dir), 'utf8');

/** The reading stand on its sheet, which is so much thicker at the right end than at the left. */
function onWedge(slope: number, placements: object = {}) {
  const draft = JSON.parse(written);
  const [board] = draft.boards;
  const [w, h] = [Number.parseFloat(board.width), Number.parseFloat(board.height)];
  board.readings = [0.02, 0.5, 0.98].flatMap((u) =>
    [0.05, 0.95].map((v) => ({ at: [u * w, v * h], thickness: 17.8 + slope * (u - 0.5) })),
  );
  draft.lay = { ...draft.lay, effort: 600, improve: 100, placements };
  const job = readJob(JSON.stringify(draft), 'job.json');
  if (!job.ok) throw new Error(JSON.stringify(job.diagnostics));
  const pieces = loadPieces(job.value, (name) => readFileSync(new URL(name, dir)));
  if (!pieces.ok) throw new Error(JSON.stringify(pieces.diagnostics));
  const laid = layJob(job.value, pieces.value);
  if (!laid.ok) throw new Error(JSON.stringify(laid.diagnostics));
  return { job: job.value, pieces: pieces.value, laid: laid.value, said: laid.diagnostics };
}

describe('mates on a sheet that is thicker at one end', () => {
  const { job, pieces, laid, said } = onWedge(0.6);
  const { before, after, moved } = laid.alike!;

  it('are laid where it is as thick for one as for the other, as the layout allows', () => {
    expect(moved.length).toBeGreaterThan(0);
    expect(after).toBeLessThan(0.75 * before);
    expect(laid.referee.valid).toBe(true);
    const note = said.find((d) => d.code === 'job/mates-unlike')!;
    expect(note.level).toBe('note');
    expect(note.message).toContain(`is ${after.toFixed(2)} mm in all, where it was ${before.toFixed(2)} mm`);
  });

  it('are counted by their own means where they lie, each pair once, beyond what is felt', () => {
    const asked = layoutQuestion(job, pieces);
    if (!asked.ok) throw new Error('it cannot be asked');
    const parts = new Map(asked.value.first.parts.map((p) => [p.id, p]));
    const mean = (id: string): number =>
      meanThickness(parts.get(id)!, laid.layout.placements.find((p) => p.item === id)!, job.boards[0]!);
    const pairs = new Set(pieces.master!.mates.map((m) => [m.slotPart, m.enteringPart].sort().join(' ')));
    const sum = [...pairs].reduce((s, pair) => {
      const [a, b] = pair.split(' ') as [string, string];
      return s + Math.max(0, Math.abs(mean(a) - mean(b)) - ALIKE);
    }, 0);
    // Its few samples against the many by which parts are refitted.
    expect(Math.abs(after - sum)).toBeLessThan(0.02 * pairs.size);
  });

  it('stay where they were laid by hand, and what they differ by is said', () => {
    const byHand = onWedge(0.6, laid.written);
    expect(byHand.laid.written).toEqual(laid.written);
    const note = byHand.said.find((d) => d.code === 'job/mates-unlike')!;
    expect(note.message).toContain(`by ${after.toFixed(2)} mm in all`);
    expect(note.message).toContain('all parts stay where they were laid');
  });

  it('move nothing on a sheet that is even, and nothing is said of it', () => {
    const even = onWedge(0.02);
    expect(even.laid.alike).toEqual({ before: 0, after: 0, moved: [] });
    expect(even.said.map((d) => d.code)).not.toContain('job/mates-unlike');
  });

  it('count for nothing where they are of two stocks', () => {
    const asked = layoutQuestion(job, pieces);
    if (!asked.ok) throw new Error('it cannot be asked');
    const { first, instance } = asked.value;
    const apart = { ...instance, items: instance.items.map((i) => ({ ...i, boards: [i.id] })) };
    expect(likeThickness(pieces.master!, first.parts, job.boards, apart).measure(laid.layout)).toBe(0);
    expect(likeThickness(pieces.master!, first.parts, job.boards, instance).measure(laid.layout)).toBeCloseTo(
      after,
      9,
    );
  });
});
