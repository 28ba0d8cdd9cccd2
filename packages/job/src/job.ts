import { calibrateMachine, type MachineCalibration } from '@haunch/gauge';
import { snap } from '@haunch/geometry';
import {
  type Board,
  type Cutter,
  type Diagnostic,
  type Distortion,
  fail,
  formatJsonPath,
  type Holding,
  issueText,
  type Machine,
  type Outcome,
  ok,
  readJson,
  type SchemaIssue,
  settle,
} from '@haunch/model';
import { boardsOfJob, costsOf } from './boards-of-job.js';
import {
  feedsBeside,
  fitsBeside,
  jobValue,
  malformedJob,
  noRouter,
  sameId,
  sourceMissing,
} from './diagnostics.js';
import { chipLoadFor, readFeedTable, SHOP_FEEDS, type ShopFeeds, USUAL_FEEDS } from './feed-table.js';
import { readFitTable, SHOP_FITS, USUAL_FITS } from './fit-table.js';
import type { FitTable } from './fit-table-schema.js';
import { type JobFile, JobSchema } from './job-schema.js';
import { type JobLadder, type JobLadders, laddersOfJob, materialsOf } from './ladder-of-job.js';
import { machineOfJob } from './machine-of-job.js';
import { type SourceReader, textOf } from './source-reader.js';

/** A job read and checked: its file's settings and the boards, cutters and machine they describe. mm, radians. */
export interface Job {
  readonly kind: 'job';
  readonly file: string;
  readonly settings: JobFile;
  readonly boards: readonly Board[];
  /** What the area of each board counts beside that of others. */
  readonly costs: ReadonlyMap<string, number>;
  readonly cutters: readonly Cutter[];
  /** The router that cuts profiles: the first in the job, as large as the ladder shows it. */
  readonly router: Cutter;
  /** The first of its ladders. */
  readonly ladder: JobLadder;
  /** Its ladders, felt ones first: each speaks for a material. */
  readonly ladders: readonly JobLadder[];
  /** The material of every stock. */
  readonly materials: ReadonlyMap<string, string>;
  /** The shop's fits, over the usual ones. */
  readonly fits: FitTable;
  /** The shop's feeds, over the usual ones. */
  readonly feeds: ShopFeeds;
  /** The same router as the job file has it: what is measured later moves no placement. */
  readonly written: Cutter;
  readonly machine: Machine;
  /** What the machine's calibration cut showed; null where there was none. */
  readonly calibration: MachineCalibration | null;
  readonly holding: Holding;
  /** The line of a value in the job file. */
  readonly lineOf: (path: readonly PropertyKey[]) => number;
}

/** Scales and shear, without what is not known of them. */
const distortionOf = ({ scaleX, scaleY, shear }: MachineCalibration): Distortion => ({
  scaleX: scaleX.value,
  scaleY: scaleY.value,
  shear: shear.value,
});

/** How strictly a job is read. */
export interface JobOptions {
  /** `not yet` while the ladder itself is being made: what the job says of one is left aside. */
  readonly ladder?: 'needed' | 'not yet';
  /** Gives the shop's fits; without it the usual ones hold, so give it wherever clearances matter. */
  readonly source?: SourceReader;
}

/** A table of the shop's: how it is called, read, found beside a job, and what holds without it. */
interface ShopTable<T> {
  readonly at: 'fit' | 'cutting';
  readonly usual: T;
  readonly name: string;
  readonly read: (text: string, file: string) => Outcome<T>;
  readonly beside: (file: string) => Diagnostic;
}

const FITS: ShopTable<FitTable> = {
  at: 'fit',
  usual: USUAL_FITS,
  name: SHOP_FITS,
  read: readFitTable,
  beside: fitsBeside,
};
const FEEDS: ShopTable<ShopFeeds> = {
  at: 'cutting',
  usual: USUAL_FEEDS,
  name: SHOP_FEEDS,
  read: readFeedTable,
  beside: feedsBeside,
};

/** The table that holds for a job: the file that it names, else the shop's file beside it, else the usual one. */
function tableOf<T>(
  of: ShopTable<T>,
  settings: JobFile,
  { file, lineOf }: Pick<Job, 'file' | 'lineOf'>,
  source: SourceReader | undefined,
): Outcome<T> {
  if (!source) return ok(of.usual);
  const { table } = settings[of.at];
  const name = table ?? of.name;
  const content = source(name);
  if (content !== undefined) {
    const read = of.read(textOf(content), name);
    return read.ok && table === undefined ? ok(read.value, [of.beside(name)]) : read;
  }
  return table === undefined ? ok(of.usual) : fail(sourceMissing(name, file, lineOf([of.at, 'table'])));
}

const repeated = (ids: readonly string[]): string[] => [
  ...new Set(ids.filter((id, i) => ids.indexOf(id) !== i)),
];

/**
 * Reads a job file. Every problem is reported together with its path and line; nothing else is touched.
 * Guarantees: lengths in mm, ids unique, at least one router.
 */
export function readJob(text: string, file = 'job.json', options: JobOptions = {}): Outcome<Job> {
  const json = readJson(text);
  if ('problem' in json) return fail(malformedJob(json.problem, file, json.line));
  const parsed = JobSchema.safeParse(json.value);
  if (!parsed.success)
    return fail(
      ...parsed.error.issues.map((i) =>
        jobValue(formatJsonPath(i.path), issueText(i as SchemaIssue), file, json.lineOf(i.path)),
      ),
    );
  const settings = parsed.data;
  const { boards, problems: readingProblems } = boardsOfJob(settings.boards, file, json.lineOf);
  const feeds = tableOf(FEEDS, settings, { file, lineOf: json.lineOf }, options.source);
  const materials = settings.boards.map((b) => b.sheet ?? 'birch plywood');
  const cutters = settings.cutters.map(
    ({ rampDegrees, pointDegrees, ...c }): Cutter => ({
      ...c,
      chipLoad: c.chipLoad ?? chipLoadFor(feeds.ok ? feeds.value : USUAL_FEEDS, c, materials),
      rampAngle: (rampDegrees * Math.PI) / 180,
      ...(pointDegrees === undefined || c.kind !== 'drill'
        ? {}
        : { pointAngle: (pointDegrees * Math.PI) / 180 }),
    }),
  );
  const router = cutters.find((c) => c.kind === 'router');
  const problems: Diagnostic[] = [
    ...readingProblems,
    ...repeated(boards.map((b) => b.id)).map((id) => sameId('boards', id, file)),
    ...repeated(cutters.map((c) => c.id)).map((id) => sameId('cutters', id, file)),
    ...repeated(cutters.map((c) => `number ${c.number}`)).map((id) => sameId('cutters', id, file)),
  ];
  if (!router) return fail(...problems, noRouter(file));
  const fits = tableOf(FITS, settings, { file, lineOf: json.lineOf }, options.source);
  problems.push(...fits.diagnostics, ...feeds.diagnostics);
  // Without a board that could be read, a ladder would be blamed for being of another.
  if (!fits.ok || !feeds.ok || boards.length === 0) return fail(...problems);
  const read: Outcome<JobLadders> =
    options.ladder === 'not yet'
      ? ok({
          ladders: [{ kind: 'without', reason: 'the ladder is being made', material: null }],
          measured: null,
        })
      : laddersOfJob({ settings, fits: fits.value, router, boards, file, lineOf: json.lineOf });
  problems.push(...read.diagnostics);
  if (!read.ok) return fail(...problems);
  const { ladders, measured } = read.value;
  const asCut = (c: Cutter): Cutter =>
    c === router && measured ? { ...c, diameter: snap(measured.diameter) } : c;
  const { calibration } = settings.machine;
  const machine = machineOfJob(settings);
  const calibrated =
    calibration &&
    calibrateMachine(calibration.lengths, { locus: { file, line: json.lineOf(['machine', 'calibration']) } });
  if (calibrated && !calibrated.ok) return fail(...problems, ...calibrated.diagnostics);
  return settle(
    {
      kind: 'job',
      file,
      settings,
      boards,
      costs: costsOf(settings.boards),
      cutters: cutters.map(asCut),
      router: asCut(router),
      ladder: ladders[0]!,
      ladders,
      materials: materialsOf(settings.boards),
      fits: fits.value,
      feeds: feeds.value,
      written: router,
      // Where no mate is turned, both its plates come out in the machine's own millimetres, and are proved in them.
      machine:
        calibrated && calibration?.programs !== 'no turned mates'
          ? { ...machine, distortion: distortionOf(calibrated.value) }
          : machine,
      calibration: calibrated ? calibrated.value : null,
      holding: settings.holding,
      lineOf: json.lineOf,
    },
    problems,
  );
}
