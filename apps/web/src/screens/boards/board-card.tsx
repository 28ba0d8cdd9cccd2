import { useState } from 'preact/hooks';
import type { Desk } from '../../job/desk.js';
import { type DisplayUnit, figureOf, formatLength } from '../../job/display-unit.js';
import { type BoardText, withBoard } from '../../job/job-document.js';
import { mmOf } from '../../job/written-length.js';
import { text } from '../../text/catalogue.js';
import { Choice } from '../../ui/choice.js';
import { Entry } from '../../ui/entry.js';
import { Facts } from '../../ui/facts.js';
import { LengthField } from '../../ui/length-field.js';
import { ringPath } from '../../ui/ring-path.js';
import type { BoardView } from '../../work/wire.js';
import type { OpenJob } from '../screen.js';
import {
  cornersOf,
  defectsOf,
  keepOutsOf,
  readingsOf,
  turningOf,
  withDefect,
  withKeepOut,
  withOffCut,
  withoutBoard,
  withoutDefect,
  withoutKeepOut,
  withoutReading,
  withReading,
  withScrew,
  withThickness,
} from './board-edits.js';
import { Screws, TurnOver } from './board-setup.js';
import { BoxForm } from './box-form.js';
import { PlaceForm } from './place-form.js';
import { ReadingForm } from './reading-form.js';
import { type Box, type Place, Sheet, type Touch } from './sheet.js';

const words = text.boards;

/** One board: the sheet to scale, what is known of it, and everything that can be changed. */
export function BoardCard(props: {
  readonly board: BoardText;
  readonly job: OpenJob;
  readonly unit: DisplayUnit;
  readonly desk: Desk;
}) {
  const { board, job, unit, desk } = props;
  const [touch, setTouch] = useState<Touch>('reading');
  const [pending, setPending] = useState<Place | null>(null);
  const { id } = board;
  const [width, height] = [mmOf(board.width), mmOf(board.height)];
  const view = job.view?.boards.find((b) => b.of === id) ?? null;
  const edit = (change: (b: BoardText) => BoardText, done: string): void =>
    desk.edit(withBoard(job.document, id, change), done);
  const own = readingsOf(board);
  const inherited = board.offCutOf
    ? (view?.board.readings ?? []).map((r, index) => ({ index, thickness: r.thickness, at: r.at ?? null }))
    : own;
  const placed = inherited.flatMap((r) => (r.at ? [{ ...r.at, thickness: r.thickness }] : []));
  const keepOuts = keepOutsOf(board);
  const defects = defectsOf(board);
  const corners = cornersOf(board);
  const edge =
    corners === null
      ? null
      : view
        ? ringPath(view.board.outline.vertices)
        : ringPath(corners.map((p) => ({ ...p, bulge: 0 })));
  const screws = (board.screws ?? []).map((s) => ({
    x: mmOf(s.at[0]),
    y: mmOf(s.at[1]),
    head: mmOf(s.head ?? 10),
  }));
  const onBox = (box: Box): void => {
    if (touch === 'keep-out') edit((b) => withKeepOut(b, box), words.done.keepOut(id));
    else if (touch === 'defect-up' || touch === 'defect-down')
      edit((b) => withDefect(b, box, touch === 'defect-up' ? 'up' : 'down'), words.done.defect(id));
    else desk.editJob((j) => withOffCut(j, id, box), words.done.offCut(id));
    setTouch('reading');
  };
  const onScrew = (at: Place): void => edit((b) => withScrew(b, at), words.done.screw(id));
  const touches: { value: Touch; label: string }[] = [
    ...(board.offCutOf ? [] : [{ value: 'reading' as const, label: words.touches.reading }]),
    { value: 'keep-out', label: words.touches['keep-out'] },
    { value: 'defect-up', label: words.touches['defect-up'] },
    { value: 'defect-down', label: words.touches['defect-down'] },
    { value: 'screw', label: words.touches.screw },
    ...(board.offCutOf || own.length === 0
      ? []
      : [{ value: 'off-cut' as const, label: words.touches['off-cut'] }]),
  ];
  const now = touches.some((t) => t.value === touch) ? touch : touches[0]!.value;
  return (
    <Entry
      head={id}
      says={`${figureOf(width, unit, 0)} × ${formatLength(height, unit, 0)}${board.material ? `, ${board.material}` : ''}${board.count && board.count > 1 ? `, ${words.times(board.count)}` : ''}`}
    >
      <Choice label={words.touch} value={now} options={touches} onChoose={setTouch} />
      {now === 'reading' ? (
        <ReadingForm
          at={pending}
          width={width}
          height={height}
          unit={unit}
          next={view?.next ?? []}
          onAt={setPending}
          onReading={(written, at) => {
            edit((b) => withReading(b, written, at), words.done.reading(id));
            setPending(null);
          }}
        />
      ) : now === 'screw' ? (
        <PlaceForm width={width} height={height} unit={unit} onPlace={onScrew} />
      ) : (
        <BoxForm
          key={now}
          label={words.boxes[now]}
          button={words.boxButtons[now]}
          width={width}
          height={height}
          unit={unit}
          onBox={onBox}
        />
      )}
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: where the sheet is wider than the screen, keys must scroll it */}
      <figure class="picture scrolls" tabIndex={0}>
        <Sheet
          width={width}
          height={height}
          view={view}
          readings={placed}
          edge={edge}
          keepOuts={keepOuts}
          defects={defects}
          screws={screws}
          grain={board.grain ?? 'x'}
          unit={unit}
          touch={now}
          pending={now === 'reading' ? pending : null}
          turning={turningOf(board)?.places ?? []}
          onPlace={(at) => (now === 'screw' ? onScrew(at) : setPending(at))}
          onBox={onBox}
        />
        <figcaption>{words.caption}</figcaption>
      </figure>
      {view ? <MapFacts view={view} unit={unit} /> : <p class="word-of look">{words.noMap}</p>}
      {board.offCutOf ? (
        <p class="soft">{words.inherits}</p>
      ) : own.length > 0 ? (
        <Readings
          readings={own}
          unit={unit}
          onThickness={(index, written) =>
            edit((b) => withThickness(b, index, written), words.done.thickness(id))
          }
          onRemove={(index) => edit((b) => withoutReading(b, index), words.done.noReading(id))}
        />
      ) : null}
      {keepOuts.length > 0 ? (
        <ul class="stack">
          {keepOuts.map((k, i) => (
            <li key={k.join()} class="row">
              <span>
                {words.keepOutAt(
                  figureOf(k[0], unit, 0),
                  figureOf(k[1], unit, 0),
                  figureOf(k[2], unit, 0),
                  formatLength(k[3], unit, 0),
                )}
              </span>
              <button
                type="button"
                onClick={() => edit((b) => withoutKeepOut(b, i), words.done.noKeepOut(id))}
              >
                {words.removeKeepOut(i + 1)}
              </button>
            </li>
          ))}
        </ul>
      ) : null}
      {defects.length > 0 ? (
        <ul class="stack">
          {defects.map(({ box, face }, i) => (
            <li key={`${face} ${box.join()}`} class="row">
              <span>
                {words.defectAt(
                  face,
                  figureOf(box[0], unit, 0),
                  figureOf(box[1], unit, 0),
                  figureOf(box[2], unit, 0),
                  formatLength(box[3], unit, 0),
                )}
              </span>
              <button type="button" onClick={() => edit((b) => withoutDefect(b, i), words.done.noDefect(id))}>
                {words.removeDefect(i + 1)}
              </button>
            </li>
          ))}
        </ul>
      ) : null}
      {corners === null ? null : <p class="soft">{words.noRectangle}</p>}
      <Screws board={board} unit={unit} onEdit={edit} />
      <details>
        <summary>{words.sizes(id)}</summary>
        <div class="stack">
          <div class="row low">
            <LengthField
              label={words.width}
              value={width}
              unit={unit}
              places={1}
              least={1}
              onLength={(w) => w && edit((b) => ({ ...b, width: w }), words.done.size(id))}
            />
            <LengthField
              label={words.height}
              value={height}
              unit={unit}
              places={1}
              least={1}
              onLength={(h) => h && edit((b) => ({ ...b, height: h }), words.done.size(id))}
            />
          </div>
          <Choice
            label={words.grain}
            value={board.grain ?? 'x'}
            options={(['x', 'y', 'none'] as const).map((value) => ({ value, label: words.grains[value] }))}
            onChoose={(grain) => edit((b) => ({ ...b, grain }), words.done.grain(id))}
          />
          <TurnOver board={board} unit={unit} onEdit={edit} />
          {job.text.boards.length > 1 ? (
            <button
              type="button"
              onClick={() => desk.editJob((j) => withoutBoard(j, id), words.done.noBoard(id))}
            >
              {words.removeBoard(id)}
            </button>
          ) : null}
        </div>
      </details>
    </Entry>
  );
}

/** What the map says, in figures. */
function MapFacts({ view, unit }: { readonly view: BoardView; readonly unit: DisplayUnit }) {
  const facts: readonly (readonly [string, string])[] = [
    [words.middle, formatLength(view.middle, unit)],
    [words.range, `${figureOf(view.least, unit)} … ${formatLength(view.most, unit)}`],
    [words.doubt, `± ${formatLength(view.doubt, unit)}`],
    [words.go, `${figureOf(view.goAt[0], unit)} … ${formatLength(view.goAt[1], unit)}`],
  ];
  return <Facts facts={facts} />;
}

function Readings(props: {
  readonly readings: readonly {
    readonly index: number;
    readonly thickness: number;
    readonly at: Place | null;
  }[];
  readonly unit: DisplayUnit;
  readonly onThickness: (index: number, written: string) => void;
  readonly onRemove: (index: number) => void;
}) {
  return (
    <ul class="stack">
      {props.readings.map((r) => {
        const where = r.at
          ? words.at(figureOf(r.at.x, props.unit, 0), figureOf(r.at.y, props.unit, 0))
          : words.somewhere;
        return (
          <li key={r.index} class="row low">
            <LengthField
              label={where}
              value={r.thickness}
              unit={props.unit}
              least={0.01}
              onLength={(written) => written && props.onThickness(r.index, written)}
            />
            <button type="button" onClick={() => props.onRemove(r.index)}>
              {words.removeReading(r.index + 1)}
            </button>
          </li>
        );
      })}
    </ul>
  );
}
