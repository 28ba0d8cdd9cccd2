import type { DayBookEntry, JOINT_FELT } from '@haunch/gauge';
import type { MadeRecord } from './made-record.js';

type FeltEntry = Extract<DayBookEntry, { kind: 'felt' }>;

/** How a joint may feel at assembly. */
export type JointFelt = (typeof JOINT_FELT)[number];

/** How a joint of a make felt, as a day book has it; null where no such joint was made, or the proof foretold no clearance for it. */
export function feltEntry(
  { report, make }: MadeRecord,
  { joint, felt }: { readonly joint: string; readonly felt: JointFelt },
  when: string,
): FeltEntry | null {
  const proved = report.joints.find((j) => j.joint === joint);
  const board = report.parts.find((p) => p.id === proved?.slotPart)?.board;
  const slotBoard = report.boards.find((b) => b.id === board);
  if (!proved || proved.clearance === null || slotBoard === undefined) return null;
  return {
    v: 2,
    kind: 'felt',
    when,
    job: report.title,
    make,
    joint,
    stock: slotBoard.stock,
    material: slotBoard.material,
    foretold: proved.clearance,
    felt,
  };
}

/** Joints with what was felt, and all others that the proof has a clearance for as `rest`; these are left out where nothing is said of them. */
export const withRest = (
  { report }: Pick<MadeRecord, 'report'>,
  said: readonly { readonly joint: string; readonly felt: JointFelt }[],
  rest: JointFelt | undefined,
): { readonly joint: string; readonly felt: JointFelt }[] => {
  const named = new Set(said.map((s) => s.joint));
  const others = report.joints.filter((j) => !named.has(j.joint) && j.clearance !== null);
  return [...said, ...(rest === undefined ? [] : others.map((j) => ({ joint: j.joint, felt: rest })))];
};
