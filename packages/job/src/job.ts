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
import { boardsOfJob } from './boards-of-job.js';
import { jobValue, malformedJob, noRouter, sameId } from './diagnostics.js';
import { type JobFile, JobSchema } from './job-schema.js';
import { type JobLadder, ladderOfJob } from './ladder-of-job.js';

/** A job read and checked: its file's settings and the boards, cutters and machine they describe. mm, radians. */
export interface Job {
  readonly kind: 'job';
  readonly file: string;
  readonly settings: JobFile;
  readonly boards: readonly Board[];
  readonly cutters: readonly Cutter[];
  /** The router that cuts profiles: the first in the job, as large as the ladder shows it. */
  readonly router: Cutter;
  readonly ladder: JobLadder;
  /** The same router as the job file has it: what is measured later moves no placement. */
  readonly written: Cutter;
  readonly machine: Machine;
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
  const cutters = settings.cutters.map(
    ({ rampDegrees, pointDegrees, ...c }): Cutter => ({
      ...c,
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
  const ladder: Outcome<JobLadder> =
    options.ladder === 'not yet'
      ? ok({ kind: 'without', reason: 'the ladder is being made' })
      : ladderOfJob(
          settings,
          router,
          settings.boards.map((b) => ({
            id: b.id,
            thickness: boards.find((x) => x.id === b.id)?.thickness ?? 0,
          })),
          file,
          json.lineOf,
        );
  problems.push(...ladder.diagnostics);
  if (!ladder.ok) return fail(...problems);
  const measured = ladder.value.kind === 'felt' ? ladder.value.measured : null;
  const asCut = (c: Cutter): Cutter =>
    c === router && measured ? { ...c, diameter: snap(measured.diameter) } : c;
  const { post: _post, postOptions: _options, calibration, ...machine } = settings.machine;
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
      cutters: cutters.map(asCut),
      router: asCut(router),
      ladder: ladder.value,
      written: router,
      machine: calibrated ? { ...machine, distortion: distortionOf(calibrated.value) } : machine,
      holding: settings.holding,
      lineOf: json.lineOf,
    },
    problems,
  );
}
