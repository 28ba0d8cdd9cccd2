import { useLayoutEffect, useState } from 'preact/hooks';
import type { Desk } from '../../job/desk.js';
import { type DisplayUnit, lengthText } from '../../job/display-unit.js';
import { mmOf } from '../../job/written-length.js';
import { text } from '../../text/catalogue.js';
import { Choice } from '../../ui/choice.js';
import { Entry } from '../../ui/entry.js';
import { FigureField } from '../../ui/figure-field.js';
import { FormProblem } from '../../ui/form-problem.js';
import type { OpenJob } from '../screen.js';
import { LENGTHS, type MeasuredLength, measuredOf, withMeasured } from './measured-lengths.js';

const words = text.fit;

/** Whether the machine goes as far as it says: lengths of a cut on it, measured; programs are corrected for what they show. */
export function MachineLengths(props: {
  readonly job: OpenJob;
  readonly unit: DisplayUnit;
  readonly desk: Desk;
}) {
  const { job, unit, desk } = props;
  const calibration = job.text.machine?.calibration;
  const kept = JSON.stringify(measuredOf(calibration, unit));
  const [typed, type] = useState<readonly MeasuredLength[]>([]);
  const [problem, say] = useState<string | null>(null);
  useLayoutEffect(() => type(JSON.parse(kept)), [kept]);
  const whole = typed.filter((t) => [t.x, t.y, t.measured].every((v) => v.trim() !== ''));
  const take = (e: Event) => {
    e.preventDefault();
    const written = whole.map((t) => ({
      ...t,
      x: lengthText(t.x, unit),
      y: lengthText(t.y, unit),
      measured: lengthText(t.measured, unit),
    }));
    if (written.some((t) => !(mmOf(t.measured) > 0) || Number.isNaN(mmOf(t.x)) || Number.isNaN(mmOf(t.y))))
      return say(words.noLength);
    if (written.length < 2) return say(words.twoLengths);
    say(null);
    desk.editJob((j) => withMeasured(j, written), words.done.machine);
  };
  return (
    <Entry head={words.machine} says={words.machineSays}>
      <form class="stack" onSubmit={take}>
        {LENGTHS.map((name, i) => (
          <fieldset key={name} class="row low">
            <legend>
              <strong>{words.machineLengths[name]}</strong>
            </legend>
            {(['x', 'y', 'measured'] as const)
              .filter((f) => f === 'measured' || name === 'up' || name === 'down' || f === name)
              .map((field) => (
                <FigureField
                  key={field}
                  label={
                    <>
                      {words.machineFields[field]}{' '}
                      <span class="soft small">{unit === 'mm' ? text.shell.mm : text.shell.inch}</span>
                    </>
                  }
                  size={9}
                  value={typed[i]?.[field] ?? ''}
                  onTyped={(value) => type(typed.map((t, k) => (k === i ? { ...t, [field]: value } : t)))}
                />
              ))}
          </fieldset>
        ))}
        <div class="row">
          <button type="submit">{words.machineTake}</button>
          {calibration ? (
            <button
              type="button"
              onClick={() => desk.editJob((j) => withMeasured(j, null), words.done.noMachine)}
            >
              {words.machineForget}
            </button>
          ) : null}
        </div>
        <FormProblem problem={problem} />
      </form>
      {calibration ? (
        <Choice
          label={words.machinePrograms}
          value={calibration.programs ?? 'correct'}
          options={(['correct', 'no turned mates', 'as it is'] as const).map((value) => ({
            value,
            label: words.machineProgramsAre[value],
          }))}
          onChoose={(programs) =>
            desk.editJob(
              (j) => ({
                ...j,
                machine: { ...j.machine, calibration: { ...j.machine!.calibration!, programs } },
              }),
              words.done.machine,
            )
          }
        />
      ) : null}
    </Entry>
  );
}
