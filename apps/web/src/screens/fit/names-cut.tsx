import type { Desk } from '../../job/desk.js';
import type { DisplayUnit } from '../../job/display-unit.js';
import { mmOf } from '../../job/written-length.js';
import { text } from '../../text/catalogue.js';
import { Choice } from '../../ui/choice.js';
import { Entry } from '../../ui/entry.js';
import { LengthField } from '../../ui/length-field.js';
import type { OpenJob } from '../screen.js';

const words = text.fit;

/** Whether parts get their names cut into the face that is not seen, instead of a ticket or as well. */
export function NamesCut(props: { readonly job: OpenJob; readonly unit: DisplayUnit; readonly desk: Desk }) {
  const { job, unit, desk } = props;
  const { engraving } = job.text;
  const routers = job.text.cutters.filter((c) => (c.kind ?? 'router') === 'router').map((c) => c.id);
  return (
    <Entry head={words.names} says={words.namesSay}>
      <Choice
        label={words.namesAre}
        value={engraving ? 'cut' : 'not'}
        options={(['not', 'cut'] as const).map((value) => ({ value, label: words.namesKinds[value] }))}
        onChoose={(kind) =>
          desk.editJob((j) => {
            const { engraving: _, ...rest } = j;
            return kind === 'not' ? rest : { ...rest, engraving: { cutter: routers[0]! } };
          }, words.done.names)
        }
      />
      {engraving ? (
        <div class="row low">
          <label>
            {words.namesCutter}
            <br />
            <select
              value={engraving.cutter}
              onChange={(e) => {
                const cutter = e.currentTarget.value;
                desk.editJob((j) => ({ ...j, engraving: { ...j.engraving!, cutter } }), words.done.names);
              }}
            >
              {routers.map((id) => (
                <option key={id} value={id}>
                  {id}
                </option>
              ))}
            </select>
          </label>
          <LengthField
            label={words.namesDepth}
            value={mmOf(engraving.depth ?? 0.4)}
            unit={unit}
            least={0.05}
            onLength={(depth) =>
              depth &&
              desk.editJob((j) => ({ ...j, engraving: { ...j.engraving!, depth } }), words.done.names)
            }
          />
        </div>
      ) : null}
    </Entry>
  );
}
