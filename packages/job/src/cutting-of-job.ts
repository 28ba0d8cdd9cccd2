import { type Diagnostic, fail, type Outcome, ok } from '@haunch/model';
import { type Engraving, type PlanInput, placeTickets, ticketPockets } from '@haunch/planner';
import { unknownName } from './diagnostics.js';
import type { Job } from './job.js';
import type { LaidBoard } from './lay-job.js';

/** How the job wants walls cut: the same on its boards and on its ladder. */
export function wallsOf({ settings, feeds }: Job): Omit<Cutting, 'tickets'> {
  const { table: _, ...walls } = settings.cutting;
  const unsaid = settings.cutters.filter((c) => c.chipLoad === undefined).map((c) => c.id);
  return { ...walls, tables: feeds.tables, directions: feeds.directions, feedsFromTable: new Set(unsaid) };
}

/** What a job says of how it is cut. */
type Cutting = Pick<
  PlanInput,
  'finishStock' | 'direction' | 'tables' | 'directions' | 'feedsFromTable' | 'tickets'
>;

function engravingOf({ settings, cutters }: Job): Engraving | undefined {
  const { engraving } = settings;
  return engraving === undefined || !cutters.some((c) => c.id === engraving.cutter) ? undefined : engraving;
}

/** All that the job says of how a board is cut, with the texts that are engraved in its parts. */
export function cuttingOf(job: Job, { board, items }: Pick<LaidBoard, 'board' | 'items'>): Outcome<Cutting> {
  const { settings, cutters, file, lineOf } = job;
  const said: Diagnostic[] = [];
  if (settings.engraving === undefined) return ok(wallsOf(job));
  const engraving = engravingOf(job);
  if (engraving === undefined)
    return fail(
      unknownName('cutter', settings.engraving.cutter, 'cutters', file, lineOf(['engraving', 'cutter'])),
    );
  const { tickets, diagnostics } = placeTickets({ items, cutters, board }, engraving);
  said.push(...diagnostics);
  return ok({ ...wallsOf(job), tickets }, said);
}

/** Items with the grooves that are engraved in them as recesses, so that a proof finds them and nothing more. */
export function withTickets(
  job: Job,
  { board, items }: Pick<LaidBoard, 'board' | 'items'>,
): LaidBoard['items'] {
  const engraving = engravingOf(job);
  if (engraving === undefined) return items;
  const { diameter } = job.cutters.find((c) => c.id === engraving.cutter)!;
  const { tickets } = placeTickets({ items, cutters: job.cutters, board }, engraving);
  return items.map((i) => {
    const grooves = tickets
      .filter((t) => t.item === i.item)
      .flatMap((t) => ticketPockets(t, diameter, i.part.cutFace));
    return grooves.length === 0 ? i : { ...i, part: { ...i.part, pockets: [...i.part.pockets, ...grooves] } };
  });
}
