import { type DisplayUnit, figureOf, formatLength } from '../../job/display-unit.js';
import { text } from '../../text/catalogue.js';
import { LengthField } from '../../ui/length-field.js';
import type { WirePlacement } from '../../work/lay-wire.js';
import type { ShownItem } from '../../work/shown-wire.js';
import { moved, turnedOn } from './lying.js';

const words = text.layout;
const WAYS = [
  ['left', -1, 0],
  ['right', 1, 0],
  ['up', 0, 1],
  ['down', 0, -1],
] as const;
/** How far a button moves a part, mm. */
const STEP = 10;

/** The part that was chosen: what it is, where it lies, and everything that moves it, to be typed or pressed. */
export function PartPanel(props: {
  readonly item: ShownItem;
  readonly placement: WirePlacement;
  readonly byHand: boolean;
  readonly still: boolean;
  readonly unit: DisplayUnit;
  readonly onMove: (to: WirePlacement) => void;
  readonly onFree: () => void;
}) {
  const { item, placement: p, unit, still } = props;
  const [w, h, t] = item.size;
  return (
    <div class="part-panel stack">
      <p>
        <strong>
          {item.item} {item.name}
        </strong>{' '}
        {`${figureOf(w, unit, 1)} × ${figureOf(h, unit, 1)} × ${formatLength(t, unit)}`};{' '}
        {words.grains[item.grain ?? 'none']};{' '}
        {words.faces[item.showUp === null ? 'either' : item.showUp ? 'up' : 'down']}
      </p>
      {still ? null : (
        <>
          <div class="row low">
            <LengthField
              label={words.x}
              value={p.at[0]}
              unit={unit}
              places={1}
              onLength={(_, mm) => mm !== null && props.onMove({ ...p, at: [mm, p.at[1]] })}
            />
            <LengthField
              label={words.y}
              value={p.at[1]}
              unit={unit}
              places={1}
              onLength={(_, mm) => mm !== null && props.onMove({ ...p, at: [p.at[0], mm] })}
            />
            {item.boards.length > 1 ? (
              <label>
                {words.board}
                <br />
                <select
                  value={p.board}
                  onChange={(e) => props.onMove({ ...p, board: e.currentTarget.value })}
                >
                  {item.boards.map((b) => (
                    <option key={b} value={b}>
                      {b}
                    </option>
                  ))}
                </select>
              </label>
            ) : null}
          </div>
          <div class="row">
            {WAYS.map(([way, dx, dy]) => (
              <button
                key={way}
                type="button"
                aria-label={words.ways[way](formatLength(STEP, unit, 0))}
                title={words.ways[way](formatLength(STEP, unit, 0))}
                onClick={() => props.onMove(moved(p, dx * STEP, dy * STEP))}
              >
                {words.arrows[way]}
              </button>
            ))}
            <button
              type="button"
              disabled={item.turns.length < 2}
              onClick={() => props.onMove(turnedOn(item, p))}
            >
              {words.turn}
            </button>
            {props.byHand ? (
              <button type="button" onClick={props.onFree}>
                {words.free(item.item)}
              </button>
            ) : null}
          </div>
          <p class="soft small">{words.howTo}</p>
        </>
      )}
    </div>
  );
}
