import { text } from '../../text/catalogue.js';
import { Entry } from '../../ui/entry.js';
import { ResultState } from '../../ui/result-state.js';
import type { Screen } from '../screen.js';

/** The Program screen. */
export const ProgramScreen: Screen = ({ result, fresh }) => (
  <Entry head={text.screens.program}>
    <ResultState result={result} fresh={fresh} />
  </Entry>
);
