import { useEffect, useState } from 'preact/hooks';
import { text } from '../../text/catalogue.js';
import { Choice } from '../../ui/choice.js';
import { Entry } from '../../ui/entry.js';
import { ResultState } from '../../ui/result-state.js';
import { Sayings } from '../../ui/sayings.js';
import { useGrowing } from '../../ui/use-growing.js';
import { usePlaces } from '../../ui/use-places.js';
import { useShown } from '../../ui/use-shown.js';
import type { Screen } from '../screen.js';
import { JointRow } from './joint-row.js';
import { BoardRules } from './rules.js';
import './proof.css';

const words = text.proof;

/** The Proof screen: every joint with its figures, its place and its lines, and every rule. */
export const ProofScreen: Screen = ({ result, fresh, unit, desk }) => {
  const [named] = usePlaces();
  const [open, setOpen] = useState<string | null>(named ?? null);
  const [show, setShow] = useState<'all' | 'off'>('all');
  const shown = useShown(desk, result, 'joints');
  useEffect(() => {
    if (!named) return;
    setOpen(named);
    setShow('all');
    // After the row has opened.
    requestAnimationFrame(() =>
      document.getElementById(`joint-${named}`)?.scrollIntoView({ block: 'start' }),
    );
  }, [named]);
  const off = (result?.report.joints ?? []).filter((j) => j.verdict !== 'as wanted');
  const rows = show === 'off' ? off : (result?.report.joints ?? []);
  // One that an address leads to is there at once.
  const count = useGrowing(rows.length, rows.findIndex((j) => j.joint === open) + 1);
  if (!result)
    return (
      <Entry head={words.state}>
        <ResultState result={result} fresh={fresh} />
      </Entry>
    );
  const { report } = result;
  return (
    <>
      <Entry head={words.state}>
        <ResultState result={result} fresh={fresh} />
      </Entry>
      <Entry
        head={words.joints}
        says={
          report.joints.length > 0
            ? words.jointsSays(report.joints.length - off.length, report.joints.length)
            : undefined
        }
      >
        {report.joints.length === 0 ? (
          <p>{words.noJoints}</p>
        ) : (
          <>
            <Choice
              label={words.show}
              value={show}
              options={(['all', 'off'] as const).map((value) => ({ value, label: words.shows[value] }))}
              onChoose={setShow}
            />
            {rows.length === 0 ? <p>{words.allWanted}</p> : null}
            <ul class="proof-joints">
              {rows.slice(0, count).map((j) => (
                <JointRow
                  key={j.joint}
                  joint={j}
                  report={report}
                  shown={shown}
                  unit={unit}
                  open={open === j.joint}
                  onOpen={(o) => setOpen(o ? j.joint : null)}
                />
              ))}
            </ul>
          </>
        )}
      </Entry>
      {report.boards.map((b) => (
        <BoardRules key={b.id} board={b} unit={unit} />
      ))}
      {report.diagnostics.length > 0 ? (
        <Entry head={words.said}>
          <Sayings of={report.diagnostics as never} />
        </Entry>
      ) : null}
      <Entry head={words.report} says={words.reportSays}>
        <div class="row">
          <button type="button" onClick={() => void desk.downloadFile('report.html')}>
            {words.downloadReport}
          </button>
          <button type="button" onClick={() => void desk.downloadFile('report.json')}>
            {words.downloadData}
          </button>
        </div>
      </Entry>
    </>
  );
};
