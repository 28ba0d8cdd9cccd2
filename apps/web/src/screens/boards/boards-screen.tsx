import { text } from '../../text/catalogue.js';
import { Entry } from '../../ui/entry.js';
import { Sayings } from '../../ui/sayings.js';
import type { Screen } from '../screen.js';
import { BoardCard } from './board-card.js';
import { withSheet } from './board-edits.js';
import { DayBook } from './day-book.js';

/** The Boards screen: every sheet to scale, with its readings and the map that they give. */
export const BoardsScreen: Screen = ({ job, result, fresh, unit, desk }) => {
  const said = (job.view?.diagnostics ?? []).filter(
    (d) => d.stage === 'gauge' || d.locus.board !== undefined,
  );
  const last = job.text.boards.at(-1)!;
  return (
    <>
      {said.length > 0 ? (
        <Entry head={text.boards.said}>
          <Sayings of={said} />
        </Entry>
      ) : null}
      {job.text.boards.map((b) => (
        <BoardCard key={b.id} board={b} job={job} unit={unit} desk={desk} />
      ))}
      <Entry head={text.boards.more} says={text.boards.moreSays}>
        <div class="row">
          <button
            type="button"
            onClick={() => desk.editJob((j) => withSheet(j, last), text.boards.done.sheet)}
          >
            {text.boards.addSheet}
          </button>
        </div>
      </Entry>
      <DayBook job={job} made={fresh && (result?.pass ?? false)} unit={unit} desk={desk} />
    </>
  );
};
