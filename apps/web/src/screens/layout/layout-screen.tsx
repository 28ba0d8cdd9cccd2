import { text } from '../../text/catalogue.js';
import { Entry } from '../../ui/entry.js';
import { ResultState } from '../../ui/result-state.js';
import type { Screen } from '../screen.js';

/** The Layout screen. */
export const LayoutScreen: Screen = ({ result, fresh }) => (
  <Entry head={text.screens.layout}>
    <ResultState result={result} fresh={fresh} />
  </Entry>
);
