import { useState } from 'preact/hooks';
import { type DisplayUnit, lengthText } from '../../job/display-unit.js';
import { mmOf } from '../../job/written-length.js';
import { text } from '../../text/catalogue.js';
import { FigureField } from '../../ui/figure-field.js';
import { FormProblem } from '../../ui/form-problem.js';
import type { Box } from './sheet.js';

const words = text.boards;
const SIDES = ['x0', 'y0', 'x1', 'y1'] as const;

/** A rectangle on a board, typed instead of dragged. */
export function BoxForm(props: {
  readonly label: string;
  readonly button: string;
  readonly width: number;
  readonly height: number;
  readonly unit: DisplayUnit;
  readonly onBox: (box: Box) => void;
}) {
  const [typed, type] = useState<Readonly<Record<(typeof SIDES)[number], string>>>({
    x0: '',
    y0: '',
    x1: '',
    y1: '',
  });
  const [problem, say] = useState<string | null>(null);
  const take = (e: Event) => {
    e.preventDefault();
    const [a, b, c, d] = SIDES.map((s) => mmOf(lengthText(typed[s], props.unit))) as [
      number,
      number,
      number,
      number,
    ];
    const box: Box = [Math.min(a, c), Math.min(b, d), Math.max(a, c), Math.max(b, d)];
    const sound = box[0] >= 0 && box[1] >= 0 && box[2] <= props.width && box[3] <= props.height;
    if (!sound || !(box[2] > box[0]) || !(box[3] > box[1])) return say(words.noBox);
    say(null);
    props.onBox(box);
  };
  return (
    <form class="stack" onSubmit={take}>
      <p class="soft">{props.label}</p>
      <div class="row low">
        {SIDES.map((s) => (
          <FigureField
            key={s}
            label={words.sides[s]}
            size={6}
            value={typed[s]}
            onTyped={(v) => type({ ...typed, [s]: v })}
          />
        ))}
        <button type="submit">{props.button}</button>
      </div>
      <FormProblem problem={problem} />
    </form>
  );
}
