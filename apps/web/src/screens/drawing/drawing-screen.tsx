import { text } from '../../text/catalogue.js';
import { Entry } from '../../ui/entry.js';
import { Sayings } from '../../ui/sayings.js';
import type { Screen } from '../screen.js';

/** The Drawing screen. */
export const DrawingScreen: Screen = ({ job }) => (
  <Entry head={text.screens.drawing}>
    <Sayings of={job.view?.diagnostics ?? []} />
  </Entry>
);
