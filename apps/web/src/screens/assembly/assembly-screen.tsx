import { text } from '../../text/catalogue.js';
import { Entry } from '../../ui/entry.js';
import { ResultState } from '../../ui/result-state.js';
import type { Screen } from '../screen.js';

/** The Assembly screen. */
export const AssemblyScreen: Screen = ({ result, fresh }) => (
  <Entry head={text.screens.assembly}>
    <ResultState result={result} fresh={fresh} />
  </Entry>
);
