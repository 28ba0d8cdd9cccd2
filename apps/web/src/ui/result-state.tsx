import { text } from '../text/catalogue.js';
import type { MadeResult } from '../work/wire.js';

/** Says whether something is made, whether it is of the job as it is now, and whether it is proved. */
export function ResultState({
  result,
  fresh,
}: {
  readonly result: MadeResult | null;
  readonly fresh: boolean;
}) {
  if (!result)
    return (
      <p>
        {text.result.none} {text.result.noneHint}
      </p>
    );
  return (
    <>
      {fresh ? null : <p class="word-of look">{text.result.stale}</p>}
      <p>
        <span class={result.pass ? 'word-of good' : 'word-of bad'}>
          {result.pass ? `✓ ${text.shell.states.proved}` : `✕ ${text.shell.states.refused}`}
        </span>
        {`: ${result.report.summary}`}
      </p>
      {result.pass ? null : <p>{text.result.refused}</p>}
    </>
  );
}
