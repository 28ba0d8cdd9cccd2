import { useEffect, useState } from 'preact/hooks';
import { text } from '../../text/catalogue.js';
import { Choice } from '../../ui/choice.js';
import { Entry } from '../../ui/entry.js';
import { ResultState } from '../../ui/result-state.js';
import { usePlaces } from '../../ui/use-places.js';
import { useShown } from '../../ui/use-shown.js';
import type { DrawnAssembly } from '../../work/assembly-wire.js';
import type { Screen } from '../screen.js';
import { PieceTogether } from './piece-together.js';
import './assembly.css';

const words = text.assembly;

/** The Assembly screen: every piece in space, put together along its real moves, step by step. */
export const AssemblyScreen: Screen = ({ result, fresh, desk }) => {
  const [joint] = usePlaces();
  const pieces = useShown(desk, result, 'pieces');
  const [piece, setPiece] = useState(0);
  const [found, setFound] = useState<{ readonly of: string; readonly assembly: DrawnAssembly | null } | null>(
    null,
  );
  const document = result?.document ?? null;
  const of = `${document} ${piece}`;
  useEffect(() => {
    if (!pieces || joint === undefined) return;
    const i = pieces.findIndex((p) => p.master.mates.some((m) => m.id === joint));
    if (i >= 0) setPiece(i);
  }, [pieces, joint]);
  useEffect(() => {
    if (document === null || !pieces || pieces.length === 0) return;
    let wanted = true;
    void desk
      .ask((s) => s.assembly(document, piece))
      .then((assembly) => {
        if (wanted) setFound({ of, assembly });
      });
    return () => {
      wanted = false;
    };
  }, [desk, document, piece, pieces]);
  const state = (
    <Entry head={words.state}>
      <ResultState result={result} fresh={fresh} />
    </Entry>
  );
  if (!result) return state;
  const assembly = found?.of === of ? found.assembly : undefined;
  return (
    <>
      {state}
      {pieces && pieces.length > 1 ? (
        <Entry head={words.pieces}>
          <Choice
            label={words.pieces}
            hidden
            value={String(piece)}
            options={pieces.map((p, i) => ({ value: String(i), label: words.piece(p.name, p.count) }))}
            onChoose={(i) => setPiece(Number(i))}
          />
        </Entry>
      ) : null}
      <Entry
        head={words.together}
        says={assembly && assembly.count > 1 ? words.alike(assembly.count) : undefined}
        wide
      >
        {pieces === null || assembly === null ? (
          <p>{text.program.notKept}</p>
        ) : pieces && pieces.length === 0 ? (
          <p>{words.loose}</p>
        ) : assembly === undefined ? (
          <p class="soft">{words.loading}</p>
        ) : (
          <PieceTogether
            key={of}
            desk={desk}
            result={result}
            piece={piece}
            assembly={assembly}
            joint={joint}
          />
        )}
      </Entry>
      <Entry head={words.before}>
        <ul class="sayings">
          {words.cautions.map((c) => (
            <li key={c}>{c}</li>
          ))}
        </ul>
      </Entry>
    </>
  );
};
