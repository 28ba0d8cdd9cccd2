import { text } from '../../text/catalogue.js';
import { Entry } from '../../ui/entry.js';
import { Sayings } from '../../ui/sayings.js';
import type { Screen } from '../screen.js';

/** The Fit screen. */
export const FitScreen: Screen = ({ job }) => (
  <Entry head={text.screens.fit}>
    <Sayings of={job.view?.diagnostics ?? []} />
  </Entry>
);
