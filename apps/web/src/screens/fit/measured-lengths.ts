import { type DisplayUnit, figureOf } from '../../job/display-unit.js';
import type { JobText } from '../../job/job-document.js';
import { mmOf } from '../../job/written-length.js';

type Calibration = NonNullable<NonNullable<JobText['machine']>['calibration']>;
type Length = Calibration['lengths'][number];

/** The lengths of a cut on the machine that have fields: along each axis, and two diagonals, rising and falling. */
export const LENGTHS = ['x', 'y', 'up', 'down'] as const;

/** One of them as it is typed: how far by X and Y as commanded, and what it measures. */
export interface MeasuredLength {
  readonly name: (typeof LENGTHS)[number];
  readonly x: string;
  readonly y: string;
  readonly measured: string;
}

const isNamed = (l: Length, name: MeasuredLength['name']): boolean =>
  l.kind === 'pitch'
    ? l.axis === name && l.approach !== 'opposite'
    : l.kind === 'diagonal' && name === (mmOf(l.dx) * mmOf(l.dy) >= 0 ? 'up' : 'down');

/** The lengths that a job has, in the unit that is shown; empty where it has none. A field that a length does not need holds a zero. */
export function measuredOf(calibration: Calibration | undefined, unit: DisplayUnit): MeasuredLength[] {
  const figure = (v: string | number): string => String(+figureOf(Math.abs(mmOf(v)), unit, 3));
  return LENGTHS.map((name) => {
    const l = calibration?.lengths.find((own) => isNamed(own, name));
    const none = { x: name === 'y' ? '0' : '', y: name === 'x' ? '0' : '', measured: '' };
    if (!l) return { name, ...none };
    const measured = figure(l.measured);
    return l.kind === 'diagonal'
      ? { name, x: figure(l.dx), y: figure(l.dy), measured }
      : { name, ...none, [name]: figure(l.cut), measured };
  });
}

/** A job whose machine was measured so; not at all where there is nothing. Lengths that have no field stay. */
export function withMeasured(job: JobText, typed: readonly MeasuredLength[] | null): JobText {
  const { calibration, ...machine } = job.machine ?? {};
  if (typed === null) return { ...job, machine };
  const others = (calibration?.lengths ?? []).filter((l) => !LENGTHS.some((name) => isNamed(l, name)));
  const lengths = typed.map(
    ({ name, x, y, measured }): Length =>
      name === 'x' || name === 'y'
        ? { kind: 'pitch', axis: name, cut: name === 'x' ? x : y, measured }
        : { kind: 'diagonal', dx: x, dy: name === 'down' ? `-${y}` : y, measured },
  );
  return {
    ...job,
    machine: {
      ...machine,
      calibration: { ...calibration, lengths: [...lengths, ...others] as Calibration['lengths'] },
    },
  };
}

const isBacklash = (l: Length, axis: 'x' | 'y'): boolean =>
  l.kind === 'pitch' && l.axis === axis && l.approach === 'opposite';

/**
 * The pitch along an axis whose holes are reached from opposite sides, mm: as programmed, or as the plain one was where there is none yet; and
 * what it measures. Null without either.
 */
export function backlashOf(
  { lengths }: Calibration,
  axis: 'x' | 'y',
): { readonly cut: number | null; readonly measured: number | null } {
  const own = lengths.find((l) => isBacklash(l, axis));
  if (own?.kind === 'pitch') return { cut: mmOf(own.cut), measured: mmOf(own.measured) };
  const plain = lengths.find((l) => isNamed(l, axis));
  return { cut: plain?.kind === 'pitch' ? mmOf(plain.cut) : null, measured: null };
}

/** A job whose machine loses so much where it turns round: the pitch with its holes reached from opposite sides; null: not measured. */
export function withBacklash(job: JobText, axis: 'x' | 'y', measured: string | null): JobText {
  const { machine } = job;
  const calibration = machine?.calibration;
  if (!calibration) return job;
  const { lengths } = calibration;
  const like = lengths.find((l) => isBacklash(l, axis)) ?? lengths.find((l) => isNamed(l, axis));
  const others = lengths.filter((l) => !isBacklash(l, axis));
  const own: Length[] =
    measured === null || like?.kind !== 'pitch'
      ? []
      : [{ kind: 'pitch', axis, cut: like.cut, measured, approach: 'opposite' }];
  return { ...job, machine: { ...machine, calibration: { ...calibration, lengths: [...others, ...own] } } };
}
