import { useState } from 'preact/hooks';
import { type DisplayUnit, lengthText } from '../../job/display-unit.js';
import { mmOf } from '../../job/written-length.js';
import { text } from '../../text/catalogue.js';
import { FigureField } from '../../ui/figure-field.js';
import { FormProblem } from '../../ui/form-problem.js';
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
          <FigureField
            key={axis}
            label={words[axis](unit)}
            size={7}
            value={typed[axis]}
            onTyped={(v) => type({ ...typed, [axis]: v })}
          />
        ))}
        <button type="submit">{words.screwButton}</button>
      </div>
      <FormProblem problem={problem} />
    </form>
  );
}
