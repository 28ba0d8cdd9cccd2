import { useEffect, useState } from 'preact/hooks';
import { sentenceIn } from '../../job/display-unit.js';
import { text } from '../../text/catalogue.js';
import { Choice } from '../../ui/choice.js';
import { Entry } from '../../ui/entry.js';
import { ResultState } from '../../ui/result-state.js';
import { usePlaces } from '../../ui/use-places.js';
import { useShown } from '../../ui/use-shown.js';
import type { ShownProgram } from '../../work/shown-wire.js';
import type { Screen } from '../screen.js';
import { Replay } from './replay.js';
import { Steps, stepTime } from './steps.js';
import './program.css';

const words = text.program;
const fileName = ({ file }: ShownProgram): string => file.split('/').at(-1)!;

/** The Program screen: what each program does and when, replayed from its text; and the programs to take along. */
export const ProgramScreen: Screen = ({ result, fresh, unit, desk }) => {
  const [named, at] = usePlaces();
  const programs = useShown(desk, result, 'programs');
  const [chosen, choose] = useState<string | null>(null);
  const [line, setLine] = useState({ line: 1 });
  useEffect(() => {
    if (named) choose(named);
    if (at && Number(at) >= 1) setLine({ line: Math.floor(Number(at)) });
  }, [named, at]);
  const program = programs?.find((p) => fileName(p) === chosen) ?? programs?.[0];
  const state = (
    <Entry head={words.state}>
      <ResultState result={result} fresh={fresh} />
    </Entry>
  );
  if (!result) return state;
  const goTo = (n: number): void => {
    setLine({ line: n });
    document.getElementById('replay')?.scrollIntoView({ block: 'start' });
  };
  const given = result.files.filter((f) => f.path.startsWith('programs/'));
  return (
    <>
      {state}
      {programs && programs.length > 1 ? (
        <Entry head={words.which}>
          <Choice
            label={words.which}
            hidden
            value={program ? fileName(program) : null}
            options={programs.map((p) => ({ value: fileName(p), label: fileName(p) }))}
            onChoose={(file) => {
              choose(file);
              setLine({ line: 1 });
            }}
          />
        </Entry>
      ) : null}
      {program ? (
        <>
          <div id="replay">
            <Entry head={words.replay} says={words.replaySays} wide>
              {result.pass ? null : <p class="word-of look">{words.onlyToLook}</p>}
              <Replay program={program} unit={unit} at={line} />
            </Entry>
          </div>
          <Entry head={words.steps} says={words.stepsSays(program.steps.length, stepTime(program.seconds))}>
            {program.setup.length > 0 ? (
              <>
                <h3>{words.setup}</h3>
                <ul class="sayings">
                  {program.setup.map((s) => (
                    <li key={s} class="note">
                      {sentenceIn(s, unit)}
                    </li>
                  ))}
                </ul>
              </>
            ) : null}
            <Steps program={program} unit={unit} onLine={goTo} />
          </Entry>
        </>
      ) : programs === undefined ? (
        <Entry head={words.replay}>
          <p class="soft">{words.fetching}</p>
        </Entry>
      ) : (
        <Entry head={words.replay}>
          <p>{words.notKept}</p>
        </Entry>
      )}
      <Entry head={words.cautions} says={words.cautionsSays}>
        <ul class="sayings">
          {result.report.cautions.map((c) => (
            <li key={c}>{c}</li>
          ))}
        </ul>
      </Entry>
      <Entry head={words.take} says={words.takeSays}>
        {given.length === 0 ? (
          <p>{text.result.refused}</p>
        ) : (
          <>
            {fresh ? null : <p class="word-of look">{text.result.stale}</p>}
            <div class="row">
              {given.map((f) => (
                <button
                  key={f.path}
                  type="button"
                  class="main"
                  onClick={() => void desk.downloadFile(f.path)}
                >
                  {words.download(f.path.split('/').at(-1)!)}
                </button>
              ))}
            </div>
            <button type="button" onClick={() => void desk.downloadAll()}>
              {words.downloadAll}
            </button>
          </>
        )}
      </Entry>
    </>
  );
};
