import { useState } from 'preact/hooks';
import type { Desk } from '../../job/desk.js';
import { type DisplayUnit, sentenceIn } from '../../job/display-unit.js';
import { withJob } from '../../job/job-document.js';
import { text } from '../../text/catalogue.js';
import { Choice } from '../../ui/choice.js';
import { Entry } from '../../ui/entry.js';
import { Sayings } from '../../ui/sayings.js';
import { useBook } from '../../ui/use-book.js';
import type { BookEvent } from '../../work/book-wire.js';
import type { MadeResult } from '../../work/wire.js';
import type { OpenJob } from '../screen.js';

const words = text.book;

/** What the shop's day book says of this job's cutter and fits, what it proposes, and what can be entered in it here. */
export function ShopSays(props: {
  readonly job: OpenJob;
  /** What was made and proved of the job as it is; null where nothing was. */
  readonly made: MadeResult | null;
  readonly unit: DisplayUnit;
  readonly desk: Desk;
}) {
  const { job, made, unit, desk } = props;
  const { book, view } = useBook(job.document.id);
  if (!book)
    return (
      <Entry head={words.says} says={words.saysSays}>
        <p>
          {words.openFirst} <a href="#boards">{words.toBook}</a>
        </p>
      </Entry>
    );
  const taken = job.text.fit?.table === words.tableFile;
  return (
    <Entry head={words.says} says={words.saysSays}>
      {view ? (
        <>
          {view.cutter === null ? null : <p>{sentenceIn(view.cutter, unit)}</p>}
          <Sayings of={view.due} />
          <div class="row">
            {view.newLadders.map((board) => (
              <button
                key={board}
                type="button"
                onClick={() => void desk.book.enter({ kind: 'ladder', board })}
              >
                {words.ladderNew(board)}
              </button>
            ))}
            {(['ground', 'swapped'] as const).map((why) => (
              <button key={why} type="button" onClick={() => void desk.book.enter({ kind: 'ground', why })}>
                {words[why]}
              </button>
            ))}
          </div>
          <h3>{words.proposed}</h3>
          {view.table === null ? (
            <p>{words.nothingProposed}</p>
          ) : (
            <>
              <ul class="sayings">
                {view.proposals.map((p) => (
                  <li key={p} class="note">
                    {sentenceIn(p, unit)}
                  </li>
                ))}
              </ul>
              {taken ? <p class="soft">{words.tableTaken}</p> : null}
              <div class="row">
                <button
                  type="button"
                  onClick={() => {
                    const { table } = view;
                    if (table === null) return;
                    desk.edit(
                      withJob(job.document, (j) => ({ ...j, fit: { ...j.fit, table: words.tableFile } }), {
                        ...job.document.sources,
                        [words.tableFile]: new Blob([table]),
                      }),
                      words.done.table,
                    );
                  }}
                >
                  {words.takeTable}
                </button>
              </div>
            </>
          )}
          {made ? <JointsFelt key={made.document} made={made} desk={desk} /> : null}
        </>
      ) : null}
    </Entry>
  );
}

type Said = Extract<BookEvent, { kind: 'felt' }>['said'];
const FELT = ['tight', 'right', 'loose'] as const;

/** How the joints of a piece felt when it was put together. */
function JointsFelt({ made, desk }: { readonly made: MadeResult; readonly desk: Desk }) {
  const joints = made.report.joints.filter((j) => j.clearance !== null).map((j) => j.joint);
  const [said, say] = useState<Said>([]);
  const [joint, choose] = useState(joints[0] ?? '');
  const [felt, feel] = useState<(typeof FELT)[number]>('tight');
  const [rest, feelRest] = useState<(typeof FELT)[number] | 'none'>('right');
  if (joints.length === 0) return null;
  const options = FELT.map((value) => ({ value, label: words.feels[value] }));
  return (
    <>
      <h3>{words.felt}</h3>
      <p class="soft small">{words.feltSays}</p>
      <div class="row low">
        <label>
          {words.joint}
          <br />
          <select value={joint} onChange={(e) => choose(e.currentTarget.value)}>
            {joints.map((id) => (
              <option key={id} value={id}>
                {id}
              </option>
            ))}
          </select>
        </label>
        <Choice label={words.feltIs} value={felt} options={options} onChoose={feel} />
        <button
          type="button"
          onClick={() => say([...said.filter((s) => s.joint !== joint), { joint, felt }])}
        >
          {words.note}
        </button>
      </div>
      {said.length > 0 ? (
        <ul>
          {said.map((s) => (
            <li key={s.joint}>{words.noted(s.joint, words.feels[s.felt])}</li>
          ))}
        </ul>
      ) : null}
      <Choice
        label={words.rest}
        value={rest}
        options={[...options, { value: 'none' as const, label: words.restNone }]}
        onChoose={feelRest}
      />
      <div class="row">
        <button
          type="button"
          onClick={() => {
            void desk.book.enter({ kind: 'felt', said, rest: rest === 'none' ? null : rest });
            say([]);
          }}
        >
          {words.enterFelt}
        </button>
      </div>
    </>
  );
}
