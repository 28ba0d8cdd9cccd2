import { useState } from 'preact/hooks';
import { mmOf } from '../../job/written-length.js';
import { text } from '../../text/catalogue.js';
import { Choice } from '../../ui/choice.js';
import { Entry } from '../../ui/entry.js';
import { LengthField } from '../../ui/length-field.js';
import { Sayings } from '../../ui/sayings.js';
import type { LadderResult } from '../../work/service.js';
import type { Reply } from '../../work/wire.js';
import type { Screen } from '../screen.js';
import { Cutters } from './cutters.js';
import { FeltForm } from './felt-form.js';
import { Forecast } from './forecast.js';
import { LadderFiles } from './ladder-files.js';
import { LadderStates } from './ladder-states.js';
import { MachineFindings } from './machine-findings.js';
import { MachineLengths } from './machine-lengths.js';
import { NamesCut } from './names-cut.js';
import { ShopSays } from './shop-says.js';

const words = text.fit;

/** The Fit screen: the cutter, the ladder that was felt, how tight joints shall be, and what is to be expected. */
export const FitScreen: Screen = ({ job, result, fresh, unit, desk }) => {
  const [ladder, set] = useState<Reply<LadderResult> | null>(null);
  const [board, choose] = useState<string | null>(null);
  const fit = job.text.fit ?? {};
  const said = (job.view?.diagnostics ?? []).filter((d) => d.stage === 'ladder');
  const boards = job.text.boards.map((b) => b.id);
  const draw = async (id: string | null): Promise<void> => {
    choose(id);
    const reply = await desk.long('ladder', (s, document, tell) => s.makeLadder(document, id, tell));
    if (reply) set(reply);
  };
  return (
    <>
      {said.length > 0 ? (
        <Entry head={words.said}>
          <Sayings of={said} />
        </Entry>
      ) : null}
      <Entry head={words.family} says={words.familySays}>
        <Choice
          label={words.familyIs}
          value={fit.family ?? 'snug'}
          options={(['drive', 'snug', 'slip'] as const).map((value) => ({
            value,
            label: words.families[value],
          }))}
          onChoose={(family) =>
            desk.editJob((j) => ({ ...j, fit: { ...j.fit, family } }), words.done.family(family))
          }
        />
        <div class="row low">
          <LengthField
            label={words.clearance}
            value={fit.clearance === undefined ? null : mmOf(fit.clearance)}
            unit={unit}
            places={unit === 'inch' ? 3 : 2}
            optional
            onLength={(written) =>
              desk.editJob((j) => {
                const { clearance: _, ...rest } = j.fit ?? {};
                return { ...j, fit: written === null ? rest : { ...rest, clearance: written } };
              }, words.done.clearance)
            }
          />
          <LengthField
            label={words.ends}
            value={fit.ends === undefined ? null : mmOf(fit.ends)}
            unit={unit}
            places={unit === 'inch' ? 3 : 2}
            optional
            onLength={(written) =>
              desk.editJob((j) => {
                const { ends: _, ...rest } = j.fit ?? {};
                return { ...j, fit: written === null ? rest : { ...rest, ends: written } };
              }, words.done.clearance)
            }
          />
        </div>
        <p class="soft small">{words.clearanceSays}</p>
      </Entry>
      <Cutters job={job} unit={unit} desk={desk} />
      <NamesCut job={job} unit={unit} desk={desk} />
      <MachineLengths job={job} unit={unit} desk={desk} />
      <MachineFindings job={job} made={fresh ? result : null} unit={unit} desk={desk} />
      <Entry head={words.ladder} says={words.ladderSays}>
        <LadderStates job={job} unit={unit} desk={desk} />
        <div class="row low">
          <label>
            {words.fromBoard}
            <br />
            <select value={board ?? ''} onChange={(e) => choose(e.currentTarget.value || null)}>
              <option value="">{words.fullestBoard}</option>
              {boards.map((id) => (
                <option key={id} value={id}>
                  {id}
                </option>
              ))}
            </select>
          </label>
          <button type="button" onClick={() => void draw(board)}>
            {words.draw}
          </button>
        </div>
        {ladder && !ladder.ok ? <Sayings of={ladder.diagnostics} /> : null}
      </Entry>
      {ladder?.ok ? (
        <>
          <Entry head={words.cutIt} says={words.cutItSays}>
            <LadderFiles ladder={ladder.value} unit={unit} />
            <Sayings of={ladder.diagnostics.filter((d) => d.level !== 'note')} />
          </Entry>
          <Entry head={words.felt} says={words.feltSays} wide>
            <FeltForm key={ladder.value.document} ladder={ladder.value} job={job} unit={unit} desk={desk} />
          </Entry>
        </>
      ) : null}
      <ShopSays job={job} made={fresh && result?.pass ? result : null} unit={unit} desk={desk} />
      <Entry head={words.forecast} says={words.forecastSays}>
        {result ? (
          <Forecast result={result} fresh={fresh} unit={unit} />
        ) : (
          <p>
            {text.result.none} {text.result.noneHint}
          </p>
        )}
      </Entry>
    </>
  );
};
