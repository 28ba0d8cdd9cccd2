import type { JobBoard } from '../job-schema.js';
import type { Report } from '../report-schema.js';

/** A rectangle that a make leaves of a board: its size, and where its corner lay in the sheet that it comes from. mm. */
export interface LeftOver {
  readonly id: string;
  readonly width: number;
  readonly height: number;
  readonly at: { readonly x: number; readonly y: number };
}

/** What an earlier make wrote: its report, and each board's program, known by the SHA-256 of its text. */
export interface MadeRecord {
  readonly report: Report;
  /** By board; one that is cut by several programs is known by all of them together. */
  readonly programs: ReadonlyMap<string, string>;
  /** Tells this piece from others: one SHA-256 over all of its programs. */
  readonly make: string;
  /** What was left of its boards; none where an earlier version made it. */
  readonly left: readonly LeftOver[];
}

const hash = async (bytes: Uint8Array): Promise<string> => {
  const digest = await crypto.subtle.digest('SHA-256', Uint8Array.from(bytes));
  return [...new Uint8Array(digest)].map((b) => b.toString(16).padStart(2, '0')).join('');
};
const hashOfText = (text: string): Promise<string> => hash(new TextEncoder().encode(text));

/** What a make's `off-cuts.json` says is left of its boards. */
export const leftOversOf = (boards: readonly JobBoard[]): LeftOver[] =>
  boards.flatMap(({ id, width, height, outline, offCutOf }) =>
    // The book knows off-cuts by two lengths alone.
    offCutOf && outline === undefined
      ? [{ id, width, height, at: { x: offCutOf.at[0], y: offCutOf.at[1] } }]
      : [],
  );

/** A make as a day book knows it. `read` gives a file of it by its path below the report's folder. */
export async function madeRecord(
  report: Report,
  read: (path: string) => Uint8Array | Promise<Uint8Array>,
  left: readonly LeftOver[],
): Promise<MadeRecord> {
  const programs = new Map<string, string>();
  for (const b of report.boards) {
    const texts: string[] = [];
    for (const p of b.programs) texts.push(await hash(await read(p.file)));
    programs.set(b.id, texts.length === 1 ? texts[0]! : await hashOfText(texts.join('\n')));
  }
  const make = await hashOfText([...programs.values()].sort().join('\n'));
  return { report, programs, make, left };
}
