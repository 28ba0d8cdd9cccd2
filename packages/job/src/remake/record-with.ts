import type { Job } from '../job.js';
import type { MadeBoard } from '../make.js';
import { boardOfReport, cuttersOfReport } from '../report.js';
import type { Report } from '../report-schema.js';
import type { RemadeFit } from './recorded-fit.js';

/** What takes the lost part's place in a record. */
export interface RemadeRecord {
  readonly job: Job;
  readonly id: string;
  readonly made: MadeBoard;
  readonly fits: readonly RemadeFit[];
  readonly title: string;
  /** Where programs and layout lie beside the record. */
  readonly programs: readonly string[];
  readonly layout: string;
}

/**
 * The record after a part was made again: what the next lost part is made against. Its parts and joints are all that stand in the
 * piece now, its one board is that of the new part, so that the day book can enter what was cut.
 */
export function recordWith(report: Report, remade: RemadeRecord): Report {
  const { job, id, made, fits, title, programs, layout } = remade;
  const cut = made.proof.parts.find((p) => p.item === id);
  const now = new Map(fits.map((f) => [f.fit, f]));
  const proved = new Map(made.proof.joints.flatMap((j) => j.fits.map((f) => [f.fit, f] as const)));
  const board = boardOfReport(made, { programs, layout }, job.materials);
  return {
    ...report,
    title,
    pass: made.proof.pass,
    summary: `${id} again from ${made.board.id}, against '${report.title}'.`,
    seconds: board.seconds,
    parts: report.parts.map((p) =>
      p.id === id
        ? {
            ...p,
            board: made.board.id,
            thickness: made.items[0]!.part.thickness ?? p.thickness,
            gouge: cut?.gouge ?? 0,
            excess: cut?.excess ?? 0,
            tabs: cut?.tabs ?? 0,
            tabsWanted: cut?.tabsWanted ?? 0,
          }
        : p,
    ),
    boards: [board],
    joints: report.joints.map((j) => ({
      ...j,
      fits: j.fits.map((f) => {
        const fit = now.get(f.fit);
        if (!fit) return f;
        const wall = proved.get(f.fit);
        return {
          ...f,
          least: fit.clearance[0],
          most: fit.clearance[1],
          ...(fit.thickness === null ? {} : { grip: fit.thickness }),
          ...(wall ? { wanted: wall.wanted, width: wall.width, standing: wall.standing } : {}),
          ...(wall ? { lines: [...wall.lines] } : {}),
        };
      }),
    })),
    cutters: cuttersOfReport(job),
    diagnostics: [],
  };
}
