import { text } from '../../text/catalogue.js';
import { ChooseFiles } from '../../ui/choose-files.js';
import { Entry } from '../../ui/entry.js';
import { Sayings } from '../../ui/sayings.js';
import type { Screen } from '../screen.js';
import { DropPlace } from './drop-place.js';
import { PieceCard } from './piece-card.js';
import { Examples } from './start.js';

const words = text.drawing;

/** The Drawing screen: every piece of the job, as it was read. */
export const DrawingScreen: Screen = ({ job, unit, desk }) => {
  const said = (job.view?.diagnostics ?? []).filter((d) => d.stage === 'job' && d.level !== 'note');
  return (
    <>
      {said.length > 0 ? (
        <Entry head={words.said}>
          <Sayings of={said} />
        </Entry>
      ) : null}
      {job.text.pieces.map((piece, index) => (
        <PieceCard key={`${index} ${piece.source}`} index={index} job={job} unit={unit} desk={desk} />
      ))}
      <Entry head={words.more} says={words.moreSays}>
        <DropPlace onFiles={(files) => void desk.open(files, 'add')}>
          <p>{words.dropMore}</p>
          <ChooseFiles label={words.chooseMore} onFiles={(files) => void desk.open(files, 'add')} />
        </DropPlace>
        <details>
          <summary>{words.otherExamples}</summary>
          <Examples />
        </details>
      </Entry>
    </>
  );
};
