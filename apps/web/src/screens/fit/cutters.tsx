import type { Desk } from '../../job/desk.js';
import { type DisplayUnit, formatLength } from '../../job/display-unit.js';
import type { JobText } from '../../job/job-document.js';
import { mmOf } from '../../job/written-length.js';
import { text } from '../../text/catalogue.js';
import { Entry } from '../../ui/entry.js';
import { LengthField } from '../../ui/length-field.js';
import type { OpenJob } from '../screen.js';

const words = text.fit;
type CutterText = JobText['cutters'][number];
const LENGTHS = ['diameter', 'fluteLength', 'upCutLength', 'chipLoad', 'depthPerPass'] as const;

/** The cutters as they are measured: whatever the label says, the diameter here is what slots are drawn for. */
export function Cutters(props: { readonly job: OpenJob; readonly unit: DisplayUnit; readonly desk: Desk }) {
  const { job, unit, desk } = props;
  const measured = job.view?.fit;
  const edit = (index: number, change: Partial<CutterText>) =>
    desk.editJob(
      (j) => ({
        ...j,
        cutters: j.cutters.map((c, i) => (i === index ? { ...c, ...change } : c)) as JobText['cutters'],
      }),
      words.done.cutter(job.text.cutters[index]!.id),
    );
  return (
    <Entry head={words.cutters} says={words.cuttersSay}>
      {job.text.cutters.map((c, index) => (
        <fieldset key={c.id} class="stack">
          <legend>
            <strong>{words.cutterName(c.number, c.id)}</strong> {words.kinds[c.kind ?? 'router']}
          </legend>
          <div class="row low">
            {LENGTHS.filter((l) => l === 'diameter' || c.kind !== 'drill').map((l) => (
              <LengthField
                key={l}
                label={words.lengths[l]}
                value={c[l] === undefined || c[l] === null ? null : mmOf(c[l])}
                unit={unit}
                places={unit === 'inch' ? 3 : 2}
                least={0.001}
                optional={l === 'upCutLength'}
                onLength={(written) =>
                  edit(index, written === null ? { upCutLength: null } : { [l]: written })
                }
              />
            ))}
            <label>
              {words.rpm}
              <br />
              <input
                type="number"
                min={1}
                step={100}
                value={c.rpm}
                onChange={(e) => {
                  const rpm = Number(e.currentTarget.value);
                  if (rpm > 0) edit(index, { rpm });
                }}
              />
            </label>
          </div>
          {index === 0 && measured?.diameterU ? (
            <p>
              {words.byLadder(
                formatLength(measured.diameter, unit, 3),
                formatLength(2 * measured.diameterU, unit, 3),
              )}
            </p>
          ) : null}
        </fieldset>
      ))}
    </Entry>
  );
}
