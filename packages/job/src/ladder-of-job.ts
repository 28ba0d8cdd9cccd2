import {
  cornerStands,
  cutterAsDeclared,
  type EffectiveDiameter,
  effectiveDiameter,
  housingOff,
  type LadderReading,
  LOAD_LIMIT,
  otherLadder,
  otherThickness,
  readLadder,
  rungsOf,
  sheetMoved,
  type Threshold,
} from '@haunch/gauge';
import { snap } from '@haunch/geometry';
import {
  type Board,
  type Cutter,
  type Diagnostic,
  fail,
  type Locus,
  type Outcome,
  settle,
} from '@haunch/model';
import { cuttersDisagree, noLadder, twoLadders, unknownName } from './diagnostics.js';
import { fitCell } from './fit-table.js';
import type { FitTable } from './fit-table-schema.js';
import type { JobFeltLadder, JobLadderEntry } from './job-ladder-schema.js';
import type { JobFile } from './job-schema.js';
import { boardThicknessAt } from './placed-thickness.js';

/** A ladder that was felt: it speaks for joints whose slots are cut in its material with its cutter. */
export interface FeltLadder {
  readonly kind: 'felt';
  readonly board: string;
  readonly material: string;
  readonly reading: LadderReading;
  /** The cutter as slot and peg of this ladder show it; null where they were not measured. */
  readonly measured: EffectiveDiameter | null;
  /** How much deeper its housing came out than the program had it, mm; 0 where it was not measured. */
  readonly deeper: number;
  /** What its relieved rung showed, and of which relief; null where it was not tried. */
  readonly corner: NonNullable<JobFeltLadder['corner']> | null;
}

/** Why there is no ladder for a material; null: for any that has none. */
export interface WithoutLadder {
  readonly kind: 'without';
  readonly reason: string;
  readonly material: string | null;
}

/** A ladder that speaks for a job: what was felt in it, or why there is none. */
export type JobLadder = FeltLadder | WithoutLadder;

/** What a job says of ladders: one entry after the other. */
export const ladderEntries = ({ ladder }: Pick<JobFile, 'ladder'>): readonly JobLadderEntry[] =>
  ladder === undefined ? [] : Array.isArray(ladder) ? ladder : [ladder];

/** The felt ladder of a material; undefined where none was felt in it. */
export const feltFor = (ladders: readonly JobLadder[], material: string | null): FeltLadder | undefined =>
  ladders.find((l): l is FeltLadder => l.kind === 'felt' && l.material === material);

/** What speaks for slots in a material: its felt ladder, or the reason why there is none; undefined where the job says nothing. */
export const ladderFor = (ladders: readonly JobLadder[], material: string): JobLadder | undefined =>
  feltFor(ladders, material) ??
  ladders.find((l) => l.kind === 'without' && l.material === material) ??
  ladders.find((l) => l.kind === 'without' && l.material === null);

/** The material of every stock: what a board of it says, or the stock's own name. */
export function materialsOf(boards: JobFile['boards']): ReadonlyMap<string, string> {
  const materials = new Map<string, string>();
  for (const b of boards) {
    const stock = b.stock ?? b.id;
    if (b.material !== undefined || !materials.has(stock)) materials.set(stock, b.material ?? stock);
  }
  return materials;
}

/** The steps of a job's ladder: about the clearance that the job would use without one in this material. mm. */
export function ladderSteps(
  { settings, fits }: { readonly settings: JobFile; readonly fits: FitTable },
  material: string | null,
  steps: Partial<JobFeltLadder['steps']> = {},
) {
  const { family, clearance } = settings.fit;
  const about = steps.about ?? clearance ?? fitCell(fits, family, material, null).wanted;
  return {
    about,
    step: steps.step ?? fits.ladderStep?.value ?? 0.05,
    acrossX: steps.acrossX ?? 7,
    acrossY: steps.acrossY ?? 3,
  };
}

/** What a job's ladders are read against. */
export interface LadderContext {
  readonly settings: JobFile;
  readonly fits: FitTable;
  readonly router: Cutter;
  readonly boards: readonly Pick<Board, 'id' | 'stock' | 'thickness' | 'map'>[];
  readonly file: string;
  readonly lineOf: (path: readonly PropertyKey[]) => number;
}

/** The job's ladders, read, and the router's diameter as all their slots and pegs together show it; null where none were measured. */
export interface JobLadders {
  readonly ladders: readonly JobLadder[];
  readonly measured: EffectiveDiameter | null;
}

interface Entry {
  readonly ladder: JobFeltLadder;
  readonly locus: Locus & { readonly file: string };
  readonly material: string;
  readonly thickness: number;
  readonly assumed: number;
  readonly measured: EffectiveDiameter | null;
}

/** Several sightings of one diameter, weighed by how sure they are. */
function together(all: readonly EffectiveDiameter[]): EffectiveDiameter | null {
  const [first] = all;
  if (!first || all.length === 1) return first ?? null;
  const weights = all.map((m) => 1 / m.u ** 2);
  const total = weights.reduce((sum, w) => sum + w, 0);
  const mean = (pick: (m: EffectiveDiameter) => number): number =>
    all.reduce((sum, m, i) => sum + weights[i]! * pick(m), 0) / total;
  const u = 1 / Math.sqrt(total);
  return { diameter: mean((m) => m.diameter), u, bias: mean((m) => m.bias), biasU: u };
}

/** A housing's depth that is further off than this is warned of, and beyond the second not believed. mm; common practice, no source. */
const HOUSING_NOTICED = 0.1;
const HOUSING_LIMIT = 1;

/** A sheet that measures less apart than this from what its ladder was cut for is the same. mm; common practice, no source. */
const SHEET_NOTICED = 0.005;

/** Whether a relief that let no corner in is still the job's: the same form with no more surplus. */
export const standsBy = (
  { felt, form, surplus }: NonNullable<JobFeltLadder['corner']>,
  relief: JobFile['relief'],
): boolean => felt === 'stands' && relief.form === form && relief.surplus <= surplus;

/** One felt ladder checked against the job, and what was measured on it. */
function entryOf(ladder: JobFeltLadder, path: PropertyKey[], context: LadderContext): Outcome<Entry> {
  const { router, boards, file, lineOf } = context;
  const locus = { file, line: lineOf(path), path: path.join('.') };
  const board = boards.find((b) => b.id === ladder.board);
  const other: Diagnostic[] = [];
  if (!board) other.push(otherLadder('board', ladder.board, boards.map((b) => b.id).join("', '"), locus));
  if (ladder.cutter !== router.id) other.push(otherLadder('cutter', ladder.cutter, router.id, locus));
  if (!board || other.length > 0) return fail(...other);
  const assumed = ladder.cutFor?.diameter ?? router.diameter;
  const said: Diagnostic[] = [];
  let measured: EffectiveDiameter | null = null;
  if (ladder.slots || ladder.pegs) {
    const found = effectiveDiameter({
      nominal: assumed,
      slots: ladder.slots ?? [],
      pegs: ladder.pegs ?? [],
      locus,
    });
    said.push(...found.diagnostics);
    if (!found.ok) return fail(...said);
    measured = found.value;
    said.push(...cutterAsDeclared(router, measured, 'ladder', locus));
  }
  if (ladder.housing) {
    const { cut, measured: deep } = ladder.housing;
    const off = Math.abs(deep - cut);
    if (off > HOUSING_LIMIT) return fail(...said, housingOff(cut, deep, 'error', locus));
    if (off > HOUSING_NOTICED) said.push(housingOff(cut, deep, 'warning', locus));
  }
  if (ladder.corner && standsBy(ladder.corner, context.settings.relief))
    said.push(cornerStands(ladder.corner.form, ladder.corner.surplus, board.id, 'warning', locus));
  const material = materialsOf(context.settings.boards).get(board.stock) ?? board.stock;
  // The rungs were cut for a thickness and a diameter; what felt right is a real width, whatever the job says of both by now.
  const plug = ladder.cutFor?.plug;
  const now = plug ? boardThicknessAt(board, { x: plug[0], y: plug[1] }) : board.thickness;
  const then = ladder.cutFor?.thickness ?? now;
  const thickness = then - now;
  if (Math.abs(thickness) > SHEET_NOTICED) {
    const at = plug ? `at (${plug[0]}, ${plug[1]}), where the plug was cut,` : 'on the whole';
    const sheet = { then, now, at };
    // Half a micrometre more, so that a difference of the limit itself is still carried over.
    if (Math.abs(thickness) > LOAD_LIMIT + 5e-4)
      return fail(...said, otherThickness(board.id, sheet, LOAD_LIMIT, locus));
    said.push(sheetMoved(board.id, sheet, locus));
  }
  return settle({ ladder, locus, material, thickness, assumed, measured }, said);
}

/** What was felt, as clearances of real widths over the sheet as it is known now. */
function readingOf(entry: Entry, diameter: number, context: LadderContext): Outcome<FeltLadder> {
  const { ladder, locus, material } = entry;
  const reading = readLadder(rungsOf(ladderSteps(context, material, ladder.steps)), ladder.answers, locus);
  if (!reading.ok) return reading;
  const more = snap(diameter - entry.assumed + entry.thickness);
  const { drive, snug, slip, thresholds } = reading.value;
  const really = ({ from, to }: Threshold): Threshold => ({
    from: from === null ? null : snap(from + more),
    to: to === null ? null : snap(to + more),
  });
  return settle(
    {
      kind: 'felt',
      board: ladder.board,
      material,
      reading: {
        ...reading.value,
        drive: snap(drive + more),
        snug: snap(snug + more),
        slip: snap(slip + more),
        thresholds: {
          mallet: really(thresholds.mallet),
          hand: really(thresholds.hand),
          rattle: really(thresholds.rattle),
        },
      },
      measured: entry.measured,
      deeper: ladder.housing ? snap(ladder.housing.measured - ladder.housing.cut) : 0,
      corner: ladder.corner ?? null,
    },
    reading.diagnostics,
  );
}

/**
 * The job's ladders, read. A job says for every material in which slots are cut what was felt in a ladder cut from one of
 * its boards with its router, or why there is none; a job that says nothing is refused here, a material without either once
 * it is known what is cut from it. The diameter is that of all slots and pegs together.
 */
export function laddersOfJob(context: LadderContext): Outcome<JobLadders> {
  const { settings, router, file, lineOf } = context;
  const many = Array.isArray(settings.ladder);
  const materials = materialsOf(settings.boards);
  const problems: Diagnostic[] = [];
  const without: WithoutLadder[] = [];
  const entries: Entry[] = [];
  ladderEntries(settings).forEach((l, i) => {
    const path: PropertyKey[] = many ? ['ladder', i] : ['ladder'];
    if ('without' in l) {
      const named = l.stock === undefined ? null : (materials.get(l.stock) ?? l.stock);
      if (named !== null && ![...materials.values()].includes(named))
        problems.push(unknownName('stock', named, path.join('.'), file, lineOf([...path, 'stock'])));
      without.push({ kind: 'without', reason: l.without, material: named });
    } else if ('answers' in l) {
      const entry = entryOf(l, path, context);
      problems.push(...entry.diagnostics);
      if (!entry.ok) return;
      const same = entries.find((e) => e.material === entry.value.material);
      if (same) problems.push(twoLadders(same.material, same.ladder.board, l.board, entry.value.locus));
      entries.push(entry.value);
    }
  });
  if (problems.some((p) => p.level === 'error')) return fail(...problems);
  if (entries.length + without.length === 0) return fail(...problems, noLadder(file));
  const sightings = entries.flatMap((e) => (e.measured ? [e.measured] : []));
  const measured = together(sightings);
  for (const [i, e] of entries.entries())
    for (const f of entries.slice(0, i))
      if (e.measured && f.measured) {
        const apart = Math.abs(e.measured.diameter - f.measured.diameter);
        if (apart > 3 * Math.hypot(e.measured.u, f.measured.u))
          problems.push(cuttersDisagree(f.ladder.board, e.ladder.board, apart, e.locus));
      }
  const felt: FeltLadder[] = [];
  for (const e of entries) {
    const reading = readingOf(e, measured?.diameter ?? router.diameter, context);
    problems.push(...reading.diagnostics);
    if (reading.ok) felt.push(reading.value);
  }
  return settle({ ladders: [...felt, ...without], measured }, problems);
}
