import { useState } from 'preact/hooks';
import { type DisplayUnit, lengthText } from '../../job/display-unit.js';
import { mmOf } from '../../job/written-length.js';
import { text } from '../../text/catalogue.js';
import type { Place } from './sheet.js';

const words = text.boards;

/** The place of a screw, typed instead of touched. */
export function PlaceForm(props: {
  readonly width: number;
  readonly height: number;
  readonly unit: DisplayUnit;
  readonly onPlace: (at: Place) => void;
}) {
  const { unit } = props;
  const [typed, type] = useState({ x: '', y: '' });
  const [problem, say] = useState<string | null>(null);
  const take = (e: Event) => {
    e.preventDefault();
    const [x, y] = [mmOf(lengthText(typed.x, unit)), mmOf(lengthText(typed.y, unit))];
    if (!(x >= 0 && y >= 0 && x <= props.width && y <= props.height)) return say(words.notOnBoard);
    say(null);
    type({ x: '', y: '' });
    props.onPlace({ x, y });
  };
  return (
    <form class="stack" onSubmit={take}>
      <p class="soft">{words.screwSays}</p>
      <div class="row low">
        {(['x', 'y'] as const).map((axis) => (
          <label key={axis}>
            {words[axis](unit)}
            <br />
            <input
              type="text"
              inputMode="decimal"
              size={7}
              autoComplete="off"
              value={typed[axis]}
              onInput={(e) => type({ ...typed, [axis]: e.currentTarget.value })}
            />
          </label>
        ))}
        <button type="submit">{words.screwButton}</button>
      </div>
      {problem === null ? null : (
        <p role="alert" class="word-of bad">
          {problem}
        </p>
      )}
    </form>
  );
}
