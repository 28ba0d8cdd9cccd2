import type { BookBoard } from '@haunch/gauge';
import type { Board, Diagnostic } from '@haunch/model';
import { boardForJob } from '../board-for-job.js';
import { boardsOfJob } from '../boards-of-job.js';
import type { Job } from '../job.js';
import { remakeOtherStock, remakeSpent, remakeUsed } from './diagnostics.js';

/** The shop's boards and off-cuts, and the file that they are kept in. */
export interface KeptBoards {
  readonly file: string;
  readonly boards: readonly BookBoard[];
}

/** Boards that a lost part may be cut from, and why others are not looked at. */
export interface Candidates {
  readonly boards: readonly Board[];
  readonly passedOver: readonly Diagnostic[];
  /** Every name that was known, whether it may be taken or not. */
  readonly known: readonly string[];
}

/**
 * The job's boards and those of the day book, each once: of two with one name the job's speaks, being the nearer to hand, and
 * the book says whether it was cut from since. Left out, with the reason: what that make was cut from, what the book has as cut from or
 * gone, and goods of another stock and material.
 */
export function candidateBoards(
  job: Job,
  {
    part,
    stock,
    used,
    kept,
    wanted,
  }: {
    readonly part: string;
    readonly stock: string | undefined;
    readonly used: ReadonlySet<string>;
    readonly kept: KeptBoards | undefined;
    readonly wanted: string | undefined;
  },
): Candidates {
  const passedOver: Diagnostic[] = [];
  const known = new Set([...job.boards.map((b) => b.id), ...(kept?.boards ?? []).map((b) => b.id)]);
  const asked = (id: string): boolean => wanted === undefined || id === wanted;
  const states = new Map((kept?.boards ?? []).map((b) => [b.id, b.state]));
  const materialOf = (s: string): string => job.materials.get(s) ?? s;
  const goes = (b: { readonly id: string; readonly stock: string }): boolean => {
    if (stock === undefined || b.stock === stock || materialOf(b.stock) === materialOf(stock)) return true;
    // The shop's other goods are no news unless one was asked for.
    if (wanted !== undefined) passedOver.push(remakeOtherStock(part, b.id, b.stock, stock));
    return false;
  };
  const open = (id: string): boolean => {
    const state = states.get(id);
    if (state === 'cut' || state === 'gone') passedOver.push(remakeSpent(id, state, kept?.file));
    else if (used.has(id)) passedOver.push(remakeUsed(id));
    else return true;
    return false;
  };
  const ofJob = job.boards.filter((b) => asked(b.id) && goes(b) && open(b.id));
  const own = new Set(job.boards.map((b) => b.id));
  const ofBook = (kept?.boards ?? [])
    .filter((b) => asked(b.id) && !own.has(b.id) && goes(b) && open(b.id))
    .flatMap((b) => boardForJob(b) ?? []);
  const read = boardsOfJob(ofBook, kept?.file ?? '', () => 1);
  return {
    boards: [...ofJob, ...read.boards],
    passedOver: [...passedOver, ...read.problems.filter((p) => p.level === 'error')],
    known: [...known],
  };
}
