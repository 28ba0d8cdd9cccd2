import type { Desk } from '../../job/desk.js';
import { type DisplayUnit, figureOf, formatLength } from '../../job/display-unit.js';
import { text } from '../../text/catalogue.js';
import { ChooseFiles } from '../../ui/choose-files.js';
import { Entry } from '../../ui/entry.js';
import { Sayings } from '../../ui/sayings.js';
import { useBook } from '../../ui/use-book.js';
import type { BookView } from '../../work/book-wire.js';
import type { OpenJob } from '../screen.js';
import { withBookBoard } from './board-edits.js';

const words = text.book;

/** The shop's day book: opened, what boards it knows, this job's sheets and cuts entered in it, and the file to take away. */
export function DayBook(props: {
  readonly job: OpenJob;
  readonly made: boolean;
  readonly unit: DisplayUnit;
  readonly desk: Desk;
}) {
  const { job, made, unit, desk } = props;
  const { book, view } = useBook(job.document.id);
  const open = (
    <ChooseFiles label={words.open} accept=".jsonl" onFiles={([file]) => file && void desk.book.open(file)} />
  );
  if (!book)
    return (
      <Entry head={words.book} says={words.bookSays}>
        <p class="soft">{words.none}</p>
        <div class="row">
          {open}
          <button
            type="button"
            onClick={() => void desk.book.open({ name: words.newName, content: new Blob([]) })}
          >
            {words.begin}
          </button>
        </div>
      </Entry>
    );
  return (
    <Entry head={words.book} says={words.bookSays}>
      <p>
        {view ? words.is(book.name, view.entries) : book.name}{' '}
        {book.added > 0 ? <span class="word-of look">{words.toDownload(book.added)}</span> : null}
      </p>
      {view ? (
        <>
          <Sayings of={view.said} />
          <p class="soft">
            {view.newBoards.length > 0
              ? words.boardsNew(view.newBoards.join(', '))
              : view.noRectangles.length === 0
                ? words.boardsKnown
                : ''}{' '}
            {view.noRectangles.length > 0 ? words.noRectangles(view.noRectangles.join(', ')) : ''}
          </p>
          {view.newBoards.length > 0 ? (
            <div class="row">
              <button type="button" onClick={() => void desk.book.enter({ kind: 'boards' })}>
                {words.enterBoards}
              </button>
            </div>
          ) : null}
          {made ? (
            <>
              <p class="soft">{words.cutSays}</p>
              <div class="row">
                <button type="button" onClick={() => void desk.book.enter({ kind: 'cut' })}>
                  {words.enterCut}
                </button>
              </div>
            </>
          ) : null}
          <Boards view={view} unit={unit} desk={desk} />
        </>
      ) : null}
      <div class="row">
        <button type="button" onClick={() => void desk.book.download()}>
          {words.download}
        </button>
        {open}
        <button type="button" onClick={() => void desk.book.putAway()}>
          {words.putAway}
        </button>
      </div>
    </Entry>
  );
}

/** What boards a day book knows: those that are whole can be taken into the job. */
function Boards(props: { readonly view: BookView; readonly unit: DisplayUnit; readonly desk: Desk }) {
  const { view, unit, desk } = props;
  const line = (b: BookView['boards'][number]) =>
    [
      words.board(
        b.id,
        `${figureOf(b.width, unit, 0)} × ${formatLength(b.height, unit, 0)}`,
        b.sheet === null ? b.stock : `${b.stock}, ${words.ofSheet(b.sheet)}`,
      ),
      words.readings(b.readings),
      words.states[b.state],
      ...(b.forJob === null ? [words.inJob] : []),
    ].join(', ');
  const whole = view.boards.filter((b) => b.state === 'whole');
  const others = view.boards.filter((b) => b.state !== 'whole');
  if (view.boards.length === 0) return <p>{words.noBoards}</p>;
  return (
    <>
      <ul class="stack">
        {whole.map((b) => (
          <li key={b.id} class="row">
            <span>{line(b)}</span>
            {b.forJob === null ? null : (
              <>
                <button
                  type="button"
                  onClick={() => desk.editJob((j) => withBookBoard(j, b.forJob!), words.done.board(b.id))}
                >
                  {words.take(b.id)}
                </button>
                <button type="button" onClick={() => void desk.book.enter({ kind: 'gone', board: b.id })}>
                  {words.gone(b.id)}
                </button>
              </>
            )}
          </li>
        ))}
      </ul>
      {others.length > 0 ? (
        <details>
          <summary>{words.others(others.length)}</summary>
          <ul class="stack">
            {others.map((b) => (
              <li key={b.id}>{line(b)}</li>
            ))}
          </ul>
        </details>
      ) : null}
    </>
  );
}
