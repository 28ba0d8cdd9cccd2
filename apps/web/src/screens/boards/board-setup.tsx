import { type DisplayUnit, figureOf } from '../../job/display-unit.js';
import type { BoardText } from '../../job/job-document.js';
import { mmOf } from '../../job/written-length.js';
import { text } from '../../text/catalogue.js';
import { Choice } from '../../ui/choice.js';
import { LengthField } from '../../ui/length-field.js';
import { type Turning, turningOf, withoutScrew, withScrewHead, withTurning } from './board-edits.js';

const words = text.boards;

type Edit = (change: (b: BoardText) => BoardText, done: string) => void;

/** The screws of a board: where, and how wide their heads are. */
export function Screws(props: {
  readonly board: BoardText;
  readonly unit: DisplayUnit;
  readonly onEdit: Edit;
}) {
  const { board, unit, onEdit } = props;
  const screws = board.screws ?? [];
  if (screws.length === 0) return null;
  return (
    <ul class="stack">
      {screws.map((s, i) => (
        <li key={i} class="row low">
          <LengthField
            label={words.screwAt(i + 1, figureOf(mmOf(s.at[0]), unit, 0), figureOf(mmOf(s.at[1]), unit, 0))}
            value={mmOf(s.head ?? 10)}
            unit={unit}
            places={1}
            least={0.1}
            onLength={(head) =>
              head && onEdit((b) => withScrewHead(b, i, head), words.done.screwHead(board.id))
            }
          />
          <button
            type="button"
            onClick={() => onEdit((b) => withoutScrew(b, i), words.done.noScrew(board.id))}
          >
            {words.removeScrew(i + 1)}
          </button>
        </li>
      ))}
    </ul>
  );
}

/** How a board is turned over for features on both faces: on to pins or against stops, and where they are. */
export function TurnOver(props: {
  readonly board: BoardText;
  readonly unit: DisplayUnit;
  readonly onEdit: Edit;
}) {
  const { board, unit, onEdit } = props;
  const { turnOver } = board;
  const set = (turning: Turning | null): void =>
    onEdit((b) => withTurning(b, turning), words.done.turning(board.id));
  const now = turningOf(board);
  const how = now === null ? 'never' : now.on;
  const places = now?.places ?? [];
  return (
    <div class="stack">
      <Choice
        label={words.turned}
        value={how}
        options={(['never', 'pins', 'stops'] as const).map((value) => ({
          value,
          label: words.turnings[value],
        }))}
        onChoose={(on) => set(on === 'never' ? null : { on, axis: now?.axis ?? 'y' })}
      />
      {now && turnOver ? (
        <>
          <Choice
            label={words.turnAbout}
            value={now.axis}
            options={(['x', 'y'] as const).map((value) => ({ value, label: words.turnAxes[value] }))}
            onChoose={(axis) => set({ on: now.on, axis })}
          />
          <LengthField
            label={words.turnDiameter[now.on]}
            value={mmOf(turnOver.diameter)}
            unit={unit}
            places={1}
            least={0.1}
            onLength={(diameter) =>
              diameter &&
              onEdit((b) => ({ ...b, turnOver: { ...b.turnOver!, diameter } }), words.done.turning(board.id))
            }
          />
          <ul class="stack">
            {places.map((p, i) => (
              <li key={i} class="row low">
                {(['x', 'y'] as const).map((axis) => (
                  <LengthField
                    key={axis}
                    label={words.turnPlace(now.on, i + 1, axis.toUpperCase())}
                    value={p[axis]}
                    unit={unit}
                    places={1}
                    least={0}
                    onLength={(_, mm) =>
                      mm !== null &&
                      set({ ...now, places: places.map((q, k) => (k === i ? { ...q, [axis]: mm } : q)) })
                    }
                  />
                ))}
              </li>
            ))}
          </ul>
          <p class="soft small">{words.turnSays}</p>
        </>
      ) : null}
    </div>
  );
}
