import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { offsetRing, type Ring, rectangleRing, ringArea, snap } from '@haunch/geometry';
import { layoutQuestion, loadPieces, readJob } from '@haunch/job';
import type { NestingInstance, NestingItem } from '@haunch/model';
import { seededRandom } from '@haunch/nesting';

const DIR = fileURLToPath(new URL('../../../docs/examples/sideboard', import.meta.url));

/** The sideboard's parts at these sizes stand for those of stools, boxes, cabinets. */
const SIZES = [0.45, 0.55, 0.65, 0.74, 0.84, 0.94];
const [LONG, WIDE] = [2440, 1220];

const scaled = (r: Ring, by: number): Ring => ({
  ...r,
  vertices: r.vertices.map((v) => ({ x: snap(v.x * by), y: snap(v.y * by), bulge: v.bulge })),
});

/** The layout problem of the sideboard's job: its parts as they are laid, sheet and off-cut. */
export function sideboardQuestion(): NestingInstance {
  const source = (name: string): Uint8Array => readFileSync(join(DIR, name));
  const job = readJob(readFileSync(join(DIR, 'job.json'), 'utf8'), 'job.json');
  if (!job.ok) throw new Error('sideboardQuestion: the example cannot be read');
  const pieces = loadPieces(job.value, source);
  if (!pieces.ok) throw new Error('sideboardQuestion: its master cannot be read');
  const asked = layoutQuestion(job.value, pieces.value);
  if (!asked.ok) throw new Error('sideboardQuestion: it cannot be refitted');
  return asked.value.roomy;
}

/** `count` furniture parts with curves, slots and tenons, grain along the sheets, on more sheets than they need. */
export function furnitureInstance(count: number): NestingInstance {
  const base = sideboardQuestion().items;
  const random = seededRandom(8);
  const boards = Array.from({ length: Math.ceil(count / 16) + 1 }, (_, i) => ({
    id: `sheet-${i + 1}`,
    outline: rectangleRing(0, 0, LONG, WIDE),
    keepOuts: [],
  }));
  const items = Array.from({ length: count }, (_, i): NestingItem => {
    const { id, outline, turns } = base[i % base.length]!;
    const size = SIZES[Math.floor(random() * SIZES.length)]!;
    return { id: `${id}.${i + 1}`, outline: scaled(outline, size), turns, boards: boards.map((b) => b.id) };
  });
  return { items, boards, spacing: 10, edgeMargin: 10 };
}

/** How many sheets the parts take by area at least, the spacing counted: each grown by half of it, as is what a sheet has to use. */
export function areaBound({ items, spacing, edgeMargin }: NestingInstance): number {
  const grown = items.reduce(
    (sum, { outline }) => sum + offsetRing(outline, { by: spacing / 2 }).reduce((a, r) => a + ringArea(r), 0),
    0,
  );
  const usable = (length: number): number => length - 2 * edgeMargin + spacing;
  return grown / (usable(LONG) * usable(WIDE));
}
