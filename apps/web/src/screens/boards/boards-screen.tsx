import { text } from '../../text/catalogue.js';
import { Entry } from '../../ui/entry.js';
import { Sayings } from '../../ui/sayings.js';
import type { Screen } from '../screen.js';

/** The Boards screen. */
export const BoardsScreen: Screen = ({ job }) => (
  <Entry head={text.screens.boards}>
    <Sayings of={job.view?.diagnostics ?? []} />
  </Entry>
);
