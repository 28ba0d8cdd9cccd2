import { text } from '../../text/catalogue.js';
import { Entry } from '../../ui/entry.js';
import { ResultState } from '../../ui/result-state.js';
import type { Screen } from '../screen.js';

/** The Proof screen. */
export const ProofScreen: Screen = ({ result, fresh }) => (
  <Entry head={text.screens.proof}>
    <ResultState result={result} fresh={fresh} />
  </Entry>
);
