import type { Cutter } from '@haunch/model';
import type { Job } from '../job.js';

/** What of a board's work one program is. */
export interface ProgramPart {
  readonly board: string;
  /** Its number among the board's programs, from 1, and how many there are. */
  readonly number: number;
  readonly of: number;
  /** The cutters that it uses, in the order of use. */
  readonly cutters: readonly Cutter[];
  /** The workingstep at which it goes on with work that was broken off. */
  readonly resumes?: string;
  /** More to be done before it is started, such as turning the sheet over. */
  readonly first?: readonly string[];
}

const mm = (v: number): string => `${Math.round(v * 1000) / 1000} mm`;
const offsetName = (n: number): string => `G${53 + n}`;

const zPlace = (zZero: 'top' | 'bed'): string =>
  zZero === 'bed' ? 'the bed under the sheet' : "the sheet's top";

/** How cutters get their length: once for all, or by touching off. */
function lengthWords({ machine, settings }: Job, { cutters, number }: ProgramPart): string[] {
  const place = zPlace(machine.zZero);
  const touched = settings.machine.toolLength === 'touched off' || machine.changer === false;
  if (!touched)
    return [
      `Z0 is ${place}; the machine knows the length of ${cutters.length === 1 ? 'this cutter' : 'these cutters'} (tool length offsets ${cutters.map((c) => c.number).join(', ')})`,
    ];
  if (cutters.length > 1)
    return [`Z0 is ${place}; set Z0 again with every cutter: the program waits for it after each change`];
  return [
    number > 1
      ? `put ${cutters[0]!.id} in and set Z0 again with it, on ${place}; leave X0 Y0 and the sheet as they are`
      : `set Z0 with ${cutters[0]!.id}, on ${place}`,
  ];
}

/**
 * What the operator sets before a program is started, a sentence a line, as its head and the report state it: which of the board's
 * programs it is, its cutters, the work offset and Z zero, and how cutters get their length.
 */
export function setupWords(job: Job, part: ProgramPart): string[] {
  const { board, number, of, cutters, resumes, first = [] } = part;
  const { workOffset = 1 } = job.machine;
  return [
    ...(resumes === undefined ? [] : [`goes on at ${resumes}; all steps before it are cut already`]),
    ...(of > 1 ? [`program ${number} of ${of} for ${board}: run them in this order`] : []),
    ...first,
    `cutter${cutters.length === 1 ? '' : 's'}: ${cutters.map((c) => `T${c.number} ${c.id}, cuts ${mm(c.diameter)}`).join('; ')}`,
    `X0 Y0 is the lower left corner of ${board}, set in ${offsetName(workOffset)}`,
    ...(job.machine.secondOffset === undefined
      ? []
      : [
          `${offsetName(job.machine.secondOffset)} has the same X0 Y0; its Z0 is ${zPlace(job.machine.zZero === 'bed' ? 'top' : 'bed')}, set on the sheet as it lies`,
        ]),
    ...lengthWords(job, part),
  ];
}
