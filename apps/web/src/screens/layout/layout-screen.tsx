import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import { type DisplayUnit, formatLength, sentenceIn } from '../../job/display-unit.js';
import { text } from '../../text/catalogue.js';
import { Entry } from '../../ui/entry.js';
import { ResultState } from '../../ui/result-state.js';
import { useShown } from '../../ui/use-shown.js';
import type { RefereeWord, WireBetter, WirePlacement } from '../../work/lay-wire.js';
import type { ShownBoard } from '../../work/shown-wire.js';
import type { Screen } from '../screen.js';
import { Better } from './better.js';
import { LaidSheet } from './laid-sheet.js';
import { laidByHand, placementsNow, withoutPlacements, withPlacements } from './lying.js';
import { PartPanel } from './part-panel.js';
import { useReferee } from './use-referee.js';
import './layout.css';

const words = text.layout;
const NONE: readonly ShownBoard[] = [];
/** So long after the last key a part that was moved by keys is written into the job, ms. */
const SOON = 700;

/** The referee's word on one board, in a line above it: what is dragged is under the eye there. */
function wordOn(word: RefereeWord | null, board: string, unit: DisplayUnit) {
  if (word === null) return '';
  const [first, ...more] = word.breaches.filter((b) => b.board === null || b.board === board);
  return first === undefined ? (
    <span class="word-of good">{words.valid}</span>
  ) : (
    <span class="word-of bad">{words.breach(sentenceIn(first.message, unit), more.length)}</span>
  );
}

/** The Layout screen: where every part lies, moved and turned by hand under the referee's eye, or looked for anew. */
export const LayoutScreen: Screen = ({ job, result, fresh, unit, desk }) => {
  const shown = useShown(desk, result, 'layout');
  const boards = shown ?? NONE;
  const [chosen, choose] = useState<string | null>(null);
  /** A part on its way: drawn there, not yet in the job. */
  const [onTheWay, setOnTheWay] = useState<{ readonly item: string; readonly to: WirePlacement } | null>(
    null,
  );
  const [found, setFound] = useState<WireBetter | null>(null);
  const soon = useRef<ReturnType<typeof setTimeout> | undefined>(undefined);
  const byHand = useMemo(() => laidByHand(job.text), [job.text]);
  const items = useMemo(() => boards.flatMap((b) => b.items), [boards]);
  const lying = useMemo(() => placementsNow(boards, byHand), [boards, byHand]);
  const placements = useMemo(
    () =>
      found
        ? { ...lying, ...found.placements }
        : onTheWay
          ? { ...lying, [onTheWay.item]: onTheWay.to }
          : lying,
    [lying, found, onTheWay],
  );
  const word = useReferee(desk, items.length > 0 && !found ? placements : null);
  const waiting = useRef<(() => void) | null>(null);
  useEffect(
    () => () => {
      clearTimeout(soon.current);
      // What was moved by keys is not lost by turning to another screen.
      waiting.current?.();
    },
    [],
  );
  const state = (
    <Entry head={words.state}>
      <ResultState result={result} fresh={fresh} />
    </Entry>
  );
  if (!result) return state;

  const commit = (item: string, to: WirePlacement): void => {
    clearTimeout(soon.current);
    waiting.current = null;
    setOnTheWay(null);
    // On another board it is drawn anew: whoever moves it by keys goes on there.
    if (to.board !== lying[item]?.board)
      requestAnimationFrame(() => document.getElementById(`part-${item}`)?.focus({ preventScroll: false }));
    // With one part moved the others stay where they lie.
    desk.editJob(
      (j) => withPlacements(j, { ...placementsNow(boards, laidByHand(j)), [item]: to }),
      words.done.moved(item),
    );
  };
  const move = (item: string, to: WirePlacement, when: 'under way' | 'soon' | 'done'): void => {
    if (waiting.current && onTheWay && onTheWay.item !== item) waiting.current();
    if (when === 'done') {
      commit(item, to);
      return;
    }
    setOnTheWay({ item, to });
    clearTimeout(soon.current);
    if (when === 'under way') return;
    waiting.current = () => commit(item, to);
    soon.current = setTimeout(() => waiting.current?.(), SOON);
  };
  const part = items.find((i) => i.item === chosen);
  const kept = Object.keys(byHand).length;
  return (
    <>
      {state}
      {shown === null ? (
        <Entry head={words.referee}>
          <p>{text.program.notKept}</p>
        </Entry>
      ) : (
        <Entry head={words.referee} says={words.refereeSays}>
          <div aria-live="polite" class="stack">
            {found ? (
              <p class="soft">{words.looking}</p>
            ) : word === null ? (
              <p class="soft">{words.asking}</p>
            ) : word.valid ? (
              <p class="word-of good">{words.valid}</p>
            ) : (
              <>
                <p class="word-of bad">{words.invalid(word.breaches.length)}</p>
                {/* A list would push the boards from under the pointer: while a part is on its way, the line above its board says it. */}
                {onTheWay ? null : (
                  <ul class="sayings">
                    {word.breaches.slice(0, 6).map((b) => (
                      <li key={b.message} class="error">
                        {sentenceIn(b.message, unit)}
                      </li>
                    ))}
                  </ul>
                )}
              </>
            )}
          </div>
          {kept > 0 ? (
            <div class="row">
              <span>{words.byHand(kept, items.length)}</span>
              <button
                type="button"
                onClick={() => desk.editJob((j) => withoutPlacements(j), words.done.anew)}
              >
                {words.anew}
              </button>
            </div>
          ) : null}
        </Entry>
      )}
      {boards.map((b) => {
        const here = items.filter((i) => placements[i.item]?.board === b.id);
        return (
          <Entry
            key={b.id}
            wide
            head={`${b.id}${b.offCut ? `, ${words.offCut}` : ''}`}
            says={words.boardSays(
              formatLength(b.width, unit, 0),
              formatLength(b.height, unit, 0),
              here.length,
              Math.round(b.use * 100),
            )}
          >
            <p class="laid-word">{wordOn(found ? null : word, b.id, unit)}</p>
            {/* biome-ignore lint/a11y/noNoninteractiveTabindex: where the board is wider than the screen, keys must scroll it */}
            <figure class="picture scrolls" tabIndex={0}>
              <LaidSheet
                board={b}
                boards={boards}
                onTheWay={onTheWay?.item ?? null}
                items={here}
                placements={placements}
                word={found ? null : word}
                chosen={chosen}
                made={fresh && !found && !onTheWay}
                still={found !== null}
                unit={unit}
                onChoose={choose}
                onMove={move}
              />
              <figcaption>{words.caption}</figcaption>
            </figure>
            {part && placements[part.item]?.board === b.id ? (
              <PartPanel
                item={part}
                placement={placements[part.item]!}
                byHand={part.item in byHand}
                still={found !== null}
                unit={unit}
                onMove={(to) => move(part.item, to, 'done')}
                onFree={() =>
                  desk.editJob((j) => withoutPlacements(j, part.item), words.done.free(part.item))
                }
              />
            ) : (
              <p class="soft small">{words.choosePart}</p>
            )}
          </Entry>
        );
      })}
      <Entry head={words.better} says={words.betterSays}>
        <Better
          desk={desk}
          found={found}
          onFound={setFound}
          onKeep={(better) => desk.editJob((j) => withPlacements(j, better), words.done.kept)}
        />
      </Entry>
    </>
  );
};
