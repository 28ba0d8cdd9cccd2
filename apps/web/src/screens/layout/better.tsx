import * as Comlink from 'comlink';
import { useRef, useState } from 'preact/hooks';
import type { Desk } from '../../job/desk.js';
import { text } from '../../text/catalogue.js';
import { useKnown } from '../../ui/use-page.js';
import type { WireBetter, WirePlacements } from '../../work/lay-wire.js';

const words = text.layout;

/** Looking for a better layout: shown as it gets better, stopped when one is content, kept or let go. */
export function Better(props: {
  readonly desk: Desk;
  /** What was found last, as it is shown; null when nothing is looked for. */
  readonly found: WireBetter | null;
  readonly onFound: (found: WireBetter | null) => void;
  readonly onKeep: (placements: WirePlacements) => void;
}) {
  const { desk, found, onFound } = props;
  const busy = useKnown((s) => s.busy);
  const [ended, end] = useState(false);
  const run = useRef(0);
  const looking = busy?.what === 'lay';
  const look = async (): Promise<void> => {
    const mine = ++run.current;
    end(false);
    const tell = Comlink.proxy((better: WireBetter) => {
      if (mine === run.current) onFound(better);
    });
    await desk.long('lay', (s, document) => s.improve(document, tell));
    if (mine === run.current) end(true);
  };
  const keep = (): void => {
    run.current++;
    if (looking) desk.stop();
    if (found?.whole) props.onKeep(found.placements);
    onFound(null);
  };
  const leave = (): void => {
    run.current++;
    if (looking) desk.stop();
    onFound(null);
  };
  return (
    <div class="stack">
      {found ? (
        <p aria-live="polite">
          {words.found(found.number, found.extent)} {found.whole ? '' : words.notWhole}
        </p>
      ) : null}
      <div class="row">
        {looking || found ? (
          <>
            <button type="button" class="main" disabled={!found?.whole} onClick={keep}>
              {looking ? words.stopKeep : words.keep}
            </button>
            <button type="button" onClick={leave}>
              {words.leave}
            </button>
          </>
        ) : (
          <button type="button" disabled={busy !== null} onClick={() => void look()}>
            {words.look}
          </button>
        )}
        {ended && found ? <span class="soft">{words.searched}</span> : null}
      </div>
    </div>
  );
}
