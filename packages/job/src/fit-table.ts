import { type Allowance, defaultAllowances, type FitFamily } from '@haunch/joinery';
import { fail, formatJsonPath, issueText, type Outcome, ok, readJson, type SchemaIssue } from '@haunch/model';
import { jobValue, malformedJob } from './diagnostics.js';
import { type FitCell, type FitRow, type FitTable, FitTableSchema } from './fit-table-schema.js';

/** The file that is looked for beside a job which names no table. */
export const SHOP_FITS = 'haunch-fits.json';

const PRACTICE = 'common practice' as const;
const cell = ({ wanted, window }: Allowance, note: string): FitCell => ({
  wanted,
  window: [window[0], window[1]],
  source: PRACTICE,
  note,
});
const usual = (family: FitFamily) => defaultAllowances(family);

/** The fits that hold where a shop's table says nothing. No published standard for slot-together plywood was found. mm */
export const USUAL_FITS: FitTable = {
  format: 'haunch-fits',
  version: 1,
  rows: [
    {
      drive: cell(usual('drive').thickness, 'goes home with the mallet'),
      snug: cell(usual('snug').thickness, 'goes home by hand and does not wobble'),
      slip: cell(
        usual('slip').thickness,
        'loose; nearer to its tight end, as looseness adds up over a piece',
      ),
      ends: cell(usual('snug').ends, 'a tenon’s ends are no grip faces: they must only never bind'),
      seat: cell(usual('snug').seat, 'a gap shows less than a shelf that stands proud'),
      swelling: {
        value: 0.0035,
        source: 'from memory',
        note: 'plywood in thickness, 0.3 to 0.4 % for each per cent of moisture content',
      },
    },
  ],
  doubts: {
    cutterByLabel: { value: 0.04, source: PRACTICE },
    slotToSlot: { value: 0.02, source: PRACTICE, note: 'deflection, backlash, runout' },
  },
  ladderStep: { value: 0.05, source: PRACTICE },
};

/** Reads a shop's fits; every problem with its path and line. What it leaves out comes from `USUAL_FITS`. */
export function readFitTable(text: string, file: string): Outcome<FitTable> {
  const json = readJson(text);
  if ('problem' in json) return fail(malformedJob(json.problem, file, json.line));
  const parsed = FitTableSchema.safeParse(json.value);
  if (!parsed.success)
    return fail(
      ...parsed.error.issues.map((i) =>
        jobValue(formatJsonPath(i.path), issueText(i as SchemaIssue), file, json.lineOf(i.path)),
      ),
    );
  const { rows, doubts, ladderStep } = parsed.data;
  return ok({
    ...parsed.data,
    rows: [...USUAL_FITS.rows, ...rows],
    doubts: { ...USUAL_FITS.doubts, ...doubts },
    ladderStep: ladderStep ?? USUAL_FITS.ladderStep,
  } as FitTable);
}

/** What a row must say to be asked. */
type Column = 'drive' | 'snug' | 'slip' | 'ends' | 'seat' | 'swelling';

const speaksFor = (row: FitRow, material: string | null, joint: string | null): boolean =>
  (row.material === undefined || row.material === material) &&
  (row.joint === undefined || (joint?.toLowerCase().includes(row.joint.toLowerCase()) ?? false));

/** A row for a material goes before one for joints, one for both before either; of joints the longer words; of rows alike the last. */
const rank = (row: FitRow): number =>
  (row.material === undefined ? 0 : 10_000) + (row.joint === undefined ? 0 : 1 + row.joint.length);

/**
 * What the table says in one column for slots in a material (a board's `material`; null for any) of a type of joint (a mate's
 * words; null for any): of the rows that speak for both, the most particular one that fills the column.
 */
export function fitCell<C extends Column>(
  table: FitTable,
  column: C,
  material: string | null,
  joint: string | null,
): NonNullable<FitRow[C]> {
  const rows = table.rows.filter((r) => r[column] !== undefined && speaksFor(r, material, joint));
  const best = rows.reduce<FitRow | undefined>((b, r) => (b && rank(b) > rank(r) ? b : r), undefined);
  return (best ?? USUAL_FITS.rows[0]!)[column]!;
}
