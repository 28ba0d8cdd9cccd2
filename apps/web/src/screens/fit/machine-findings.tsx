import type { Desk } from '../../job/desk.js';
import { type DisplayUnit, figureOf, formatLength, sentenceIn } from '../../job/display-unit.js';
import { text } from '../../text/catalogue.js';
import { Entry } from '../../ui/entry.js';
import { Facts } from '../../ui/facts.js';
import { LengthField } from '../../ui/length-field.js';
import type { MachineView, MadeResult } from '../../work/wire.js';
import type { OpenJob } from '../screen.js';
import { backlashOf, withBacklash } from './measured-lengths.js';

const words = text.fit;
/** Scale and squareness are said as what they do to this length, mm. */
const OVER = 1000;

/** What the calibration cut shows, what that does to the joints, and the fields for what a turn of the machine loses. */
export function MachineFindings(props: {
  readonly job: OpenJob;
  /** What was made of the job as it is; null where nothing was. */
  readonly made: MadeResult | null;
  readonly unit: DisplayUnit;
  readonly desk: Desk;
}) {
  const { job, made, unit, desk } = props;
  const machine = job.view?.machine;
  const calibration = job.text.machine?.calibration;
  if (!calibration) return null;
  const lost = made?.report.machine?.words.slice(1) ?? [];
  return (
    <Entry head={words.findings} says={words.findingsSay}>
      {machine ? <Facts facts={factsOf(machine, unit)} /> : <p>{words.noFindings}</p>}
      {lost.length > 0 ? (
        <ul class="sayings">
          {lost.map((w) => (
            <li key={w} class="note">
              {sentenceIn(w, unit)}
            </li>
          ))}
        </ul>
      ) : (
        <p class="soft">{words.findingsLater}</p>
      )}
      <p class="soft small">{words.backlashSays}</p>
      <div class="row low">
        {(['x', 'y'] as const).map((axis) => {
          const { cut, measured } = backlashOf(calibration, axis);
          return cut === null ? null : (
            <LengthField
              key={axis}
              label={words.backlashField(axis.toUpperCase(), formatLength(cut, unit, 2))}
              value={measured}
              unit={unit}
              places={3}
              least={0.1}
              optional
              onLength={(written) => desk.editJob((j) => withBacklash(j, axis, written), words.done.backlash)}
            />
          );
        })}
      </div>
    </Entry>
  );
}

/** The figures, each with two standard uncertainties. */
function factsOf(m: MachineView, unit: DisplayUnit): (readonly [string, string])[] {
  const over = formatLength(OVER, unit, unit === 'inch' ? 2 : 0);
  const give = (e: { readonly value: number; readonly u: number }, of: number): string =>
    words.moreOrLess(
      figureOf(Math.abs(e.value) * of, unit, 3),
      formatLength(2 * e.u * of, unit, 3),
      Math.sign(Math.round(e.value * of * 1000)),
    );
  const backlash = (e: MachineView['backlashX']): string =>
    e === null
      ? words.notMeasured
      : words.lost(figureOf(Math.abs(e.value), unit, 3), formatLength(2 * e.u, unit, 3));
  return [
    [words.goesTooFar('X', over), give(m.scaleX, OVER)],
    [words.goesTooFar('Y', over), give(m.scaleY, OVER)],
    [words.square(over), m.shear === null ? words.notMeasured : give(m.shear, OVER)],
    [words.backlash('X'), backlash(m.backlashX)],
    [words.backlash('Y'), backlash(m.backlashY)],
  ];
}
