import {
  fail,
  formatJsonPath,
  issueText,
  type Outcome,
  ok,
  readJson,
  type SchemaIssue,
  type SheetMaterial,
} from '@haunch/model';
import {
  type ChipLoadRow,
  CUT_DIRECTIONS,
  type CutDirections,
  chipLoadBand,
  depthDerating,
  FEED_TABLES,
  type FeedTables,
} from '@haunch/planner';
import { jobValue, malformedJob } from './diagnostics.js';
import { type FeedTable, FeedTableSchema } from './feed-table-schema.js';

/** The file that is looked for beside a job which names no table of feeds. */
export const SHOP_FEEDS = 'haunch-feeds.json';

/** What a job's cuts are judged and fed by. */
export interface ShopFeeds {
  readonly tables: FeedTables;
  readonly directions: CutDirections;
  /** Share of the table's least chip load that a cutter is given which states none. */
  readonly ownShare: number;
}

const MATERIALS: readonly SheetMaterial[] = [
  'birch plywood',
  'softwood plywood',
  'fibreboard',
  'particleboard',
];

/** What holds where a shop's table says nothing: charts are for stiff machines, light ones run at a third to a half of them (common practice, no source). */
export const USUAL_FEEDS: ShopFeeds = { tables: FEED_TABLES, directions: CUT_DIRECTIONS, ownShare: 0.5 };

/** The chip loads of a shop in the places of the usual ones: a material of which it says anything is its own alone. */
function chipLoadsOf(rows: FeedTable['chipLoads']): readonly ChipLoadRow[] {
  if (rows.length === 0) return FEED_TABLES.chipLoads;
  const own = (material: SheetMaterial) =>
    rows.filter((r) => r.material === material).sort((a, b) => a.diameter - b.diameter);
  // Bands are straight between rows, so a row at every diameter of either says the same.
  const diameters = [...new Set([...FEED_TABLES.chipLoads, ...rows].map((r) => r.diameter))].sort(
    (a, b) => a - b,
  );
  const bandOf = (material: SheetMaterial, diameter: number): readonly [number, number] => {
    const of = own(material);
    if (of.length === 0) return chipLoadBand(FEED_TABLES, material, diameter);
    const chipLoads = of.map((r) => {
      const band = [r.least, r.most] as const;
      return { diameter: r.diameter, bands: Object.fromEntries(MATERIALS.map((m) => [m, band])) };
    });
    return chipLoadBand({ ...FEED_TABLES, chipLoads: chipLoads as ChipLoadRow[] }, material, diameter);
  };
  return diameters.map((diameter) => ({
    diameter,
    bands: Object.fromEntries(MATERIALS.map((m) => [m, bandOf(m, diameter)])) as ChipLoadRow['bands'],
  }));
}

/** Reads a shop's feeds; every problem with its path and line. What it leaves out comes from `USUAL_FEEDS`. */
export function readFeedTable(text: string, file: string): Outcome<ShopFeeds> {
  const json = readJson(text);
  if ('problem' in json) return fail(malformedJob(json.problem, file, json.line));
  const parsed = FeedTableSchema.safeParse(json.value);
  if (!parsed.success)
    return fail(
      ...parsed.error.issues.map((i) =>
        jobValue(formatJsonPath(i.path), issueText(i as SchemaIssue), file, json.lineOf(i.path)),
      ),
    );
  const t = parsed.data;
  const { energy, lightest, core, deflection } = FEED_TABLES;
  return ok({
    tables: {
      ...FEED_TABLES,
      chipLoads: chipLoadsOf(t.chipLoads),
      energy: {
        ...energy,
        ...Object.fromEntries(t.energies.map((r) => [r.material, [r.low, r.usual, r.high]])),
      },
      lightest: t.lightest?.value ?? lightest,
      core: t.core?.value ?? core,
      deflection: t.bend?.value ?? deflection,
    },
    directions: {
      ...CUT_DIRECTIONS,
      of: {
        ...CUT_DIRECTIONS.of,
        ...Object.fromEntries(
          t.directions.map(({ material, outline, opening, pocket }) => [
            material,
            { outline, opening, pocket },
          ]),
        ),
      },
    },
    ownShare: t.ownShare?.value ?? USUAL_FEEDS.ownShare,
  });
}

/**
 * The chip load of a cutter that states none, mm a tooth: `ownShare` of the table's least for its diameter, in that of the materials which
 * bears least, less what its deepest pass takes off. To the thousandth.
 */
export function chipLoadFor(
  { tables, ownShare }: ShopFeeds,
  { diameter, depthPerPass }: { readonly diameter: number; readonly depthPerPass: number },
  materials: readonly SheetMaterial[],
): number {
  const least = Math.min(...materials.map((m) => chipLoadBand(tables, m, diameter)[0]));
  return Math.max(0.001, Math.round(least * ownShare * depthDerating(depthPerPass, diameter) * 1000) / 1000);
}
