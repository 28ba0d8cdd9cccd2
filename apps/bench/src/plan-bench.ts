import { existsSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { type Ring, rectangleRing } from '@haunch/geometry';
import { prepareJob } from '@haunch/job';
import type { Board, Contour, Cutter, Holding, Machine, Part } from '@haunch/model';
import {
  type AirProblem,
  airProblem,
  choicePathBound,
  choicePathCost,
  type Plan,
  type PlanInput,
  planBoard,
} from '@haunch/planner';

const EXAMPLES = fileURLToPath(new URL('../../../docs/examples', import.meta.url));

/** The boards of an example's job, laid out: what is planned for each. */
async function inputsOf(example: string): Promise<PlanInput[]> {
  const file = join(EXAMPLES, example, 'job.json');
  // Without what was felt on a ladder: it changes widths of slots, not the order of work.
  const { ladder: _, ...job } = JSON.parse(readFileSync(file, 'utf8')) as Record<string, unknown>;
  const source = (name: string) => {
    const path = join(dirname(file), name);
    return existsSync(path) ? readFileSync(path, 'utf8') : undefined;
  };
  const prepared = await prepareJob({ text: JSON.stringify(job), file, source }, { ladder: 'not yet' });
  if (!prepared.ok) throw new Error(`${example}: ${prepared.diagnostics[0]?.message}`);
  const { laid } = prepared.value;
  const mating = new Set(laid.fitted.joinery.contacts.map((c) => c.edge));
  const { cutters, machine, holding } = prepared.value.job;
  return laid.boards.map(({ board, items }) => ({ board, items, mating, cutters, machine, holding }));
}

function planned(input: PlanInput): Plan {
  const plan = planBoard(input);
  if (!plan.ok) throw new Error(`${input.board.id}: ${plan.diagnostics.at(-1)?.message}`);
  return plan.value;
}

/** Seconds of the first, cold plan of the sideboard. */
export async function sideboardPlanSeconds(): Promise<number> {
  const inputs = await inputsOf('sideboard');
  const started = performance.now();
  inputs.forEach(planned);
  return (performance.now() - started) / 1000;
}

/** How the way between cuts compares with nearest first: same cuts, same entries, same rules; boards together. */
export interface AirShare {
  readonly parts: number;
  /** Length of the way from the machine's corner through all cuts, mm: nearest first, and as planned. */
  readonly length: readonly [number, number];
  /** Seconds above the sheet. */
  readonly seconds: readonly [number, number];
  /** A length that no order goes below by the same entries and rules, mm: what is between it and the plan's is not known. */
  readonly least: number;
}

const airOf = ({ workplan }: Plan): number => workplan.steps.reduce((sum, s) => sum + (s.spent?.air ?? 0), 0);

/** Rounds of the bound: three times as many raise it from 57.2 to 58.7 % of nearest first, in half a minute more. */
const BOUND_ROUNDS = 3_000;

/** The pigeonhole rack's boards, planned nearest first and as usual. */
export async function pigeonholeAir(): Promise<AirShare> {
  const inputs = await inputsOf('pigeonholes');
  const both = inputs.map((input) => [planned({ ...input, effort: 0 }), planned(input)] as const);
  const total = (of: (p: Plan) => number): [number, number] => [
    both.reduce((sum, [a]) => sum + of(a), 0),
    both.reduce((sum, [, b]) => sum + of(b), 0),
  ];
  const problems = inputs.map(airProblem);
  const sum = (of: (p: AirProblem) => number): number => problems.reduce((all, p) => all + of(p), 0);
  return {
    parts: inputs.reduce((sum, i) => sum + i.items.length, 0),
    length: [
      sum((p) => choicePathCost(p.problem, p.nearest)),
      sum((p) => choicePathCost(p.problem, p.planned)),
    ],
    seconds: total(airOf),
    least: sum((p) => choicePathBound(p.problem, BOUND_ROUNDS)),
  };
}

const CUTTER: Cutter = {
  id: 'router-6',
  number: 1,
  kind: 'router',
  diameter: 6,
  flutes: 2,
  fluteLength: 22,
  upCutLength: null,
  rpm: 18_000,
  chipLoad: 0.15,
  depthPerPass: 6.5,
  rampAngle: Math.PI / 36,
};
const MACHINE: Machine = {
  name: 'bench',
  envelope: { x: [-50, 50_000], y: [-50, 50_000], z: [-30, 60] },
  clearance: 15,
  rapidRate: 12_000,
  maxFeed: 6_000,
  maxRpm: 24_000,
  acceleration: 800,
  zZero: 'top',
  spoilboard: 0.5,
  spinUp: 3,
};
const HOLDING: Holding = { tabWidth: 6, tabHeight: 3, tabSpacing: 500, fewestTabs: 2, clearSlugsBelow: 10 };

/** A rectangle whose sides are cut into 5 edges each: 20 segments. */
function twentySided(x: number, y: number, width: number, height: number, id: string): Contour {
  const corners = rectangleRing(x, y, x + width, y + height).vertices;
  const vertices = corners.flatMap((a, i) => {
    const b = corners[(i + 1) % 4]!;
    return [0, 1, 2, 3, 4].map((k) => ({
      x: a.x + ((b.x - a.x) * k) / 5,
      y: a.y + ((b.y - a.y) * k) / 5,
      bulge: 0,
      tag: `${id}/e${i}.${k}`,
    }));
  });
  const bare: Ring = { vertices };
  return { id, ring: bare, bare, reliefs: [] };
}

/** A board of parts with four openings each, every contour of 20 segments; `contours` of them in all. */
export function boardOfContours(contours: number): PlanInput {
  const count = Math.ceil(contours / 5);
  const wide = Math.ceil(Math.sqrt(count));
  const items = Array.from({ length: count }, (_, i) => {
    const [x, y] = [20 + (i % wide) * 430, 20 + Math.floor(i / wide) * 330];
    // Sizes differ a little, so that small before large has something to do.
    const [w, h] = [320 + (i % 7) * 12, 230 + (i % 5) * 14];
    const id = `P${i}`;
    const through = [0, 1, 2, 3].map((k) =>
      twentySided(x + 30 + (k % 2) * 150, y + 30 + Math.floor(k / 2) * 100, 100, 60, `${id}.o${k}`),
    );
    const part: Part = {
      kind: 'part',
      id,
      name: id,
      thickness: 18,
      grain: null,
      cutFace: 'n+',
      showFace: null,
      stock: null,
      outline: twentySided(x, y, w, h, id),
      through,
      pockets: [],
      holes: [],
      from: [],
    };
    return { item: id, part };
  });
  const board: Board = {
    id: 'large',
    stock: 'ply',
    outline: rectangleRing(0, 0, wide * 430 + 40, Math.ceil(count / wide) * 330 + 40),
    thickness: 18,
    readings: [],
    grain: null,
    keepOuts: [],
  };
  const holding = { ...HOLDING, tabSpacing: 400 };
  return { board, items, mating: new Set(), cutters: [CUTTER], machine: MACHINE, holding };
}

/** Seconds to plan a board of so many contours. */
export function contoursSeconds(contours: number): number {
  const input = boardOfContours(contours);
  const started = performance.now();
  planned(input);
  return (performance.now() - started) / 1000;
}
