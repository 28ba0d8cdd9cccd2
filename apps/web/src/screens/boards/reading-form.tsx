import { useLayoutEffect, useRef, useState } from 'preact/hooks';
import { type DisplayUnit, figureOf, lengthText } from '../../job/display-unit.js';
import { mmOf } from '../../job/written-length.js';
import { text } from '../../text/catalogue.js';
import { FormProblem } from '../../ui/form-problem.js';

const words = text.boards;

interface Place {
  readonly x: number;
  readonly y: number;
}

/** A reading being typed: where, and how thick. A touch on the sheet fills in the place, or it is typed. */
export function ReadingForm(props: {
  readonly at: Place | null;
  readonly width: number;
  readonly height: number;
  readonly unit: DisplayUnit;
  readonly next: readonly (Place & { readonly before: number; readonly after: number })[];
  readonly onAt: (at: Place | null) => void;
  readonly onReading: (written: string, at: Place | null) => void;
}) {
  const { at, unit } = props;
  const [x, setX] = useState('');
  const [y, setY] = useState('');
  const [thickness, setThickness] = useState('');
  const [problem, say] = useState<string | null>(null);
  const field = useRef<HTMLInputElement>(null);
  // Before anything is drawn: a figure typed at once after the touch must not be overtaken.
  useLayoutEffect(() => {
    setX(at ? figureOf(at.x, unit, 0) : '');
    setY(at ? figureOf(at.y, unit, 0) : '');
    say(null);
    if (at) field.current?.focus({ preventScroll: true });
  }, [at, unit]);
  const note = (e: Event) => {
    e.preventDefault();
    const written = lengthText(thickness, unit);
    const mm = mmOf(written);
    if (!(mm > 0)) return say(words.noThickness);
    let place: Place | null = null;
    if (x.trim() !== '' || y.trim() !== '') {
      place = { x: mmOf(lengthText(x, unit)), y: mmOf(lengthText(y, unit)) };
      const inside = place.x >= 0 && place.y >= 0 && place.x <= props.width && place.y <= props.height;
      if (!inside) return say(words.notOnBoard);
    }
    say(null);
    setThickness('');
    setX('');
    setY('');
    props.onReading(written, place);
  };
  const one = (label: string, value: string, set: (v: string) => void, ref?: typeof field) => (
    <label>
      {label}
      <br />
      <input
        {...(ref ? { ref } : {})}
        type="text"
        inputMode="decimal"
        size={7}
        autoComplete="off"
        value={value}
        onInput={(e) => set(e.currentTarget.value)}
      />
    </label>
  );
  return (
    <form class="stack" onSubmit={note}>
      <p class="soft">{words.howTo}</p>
      <div class="row low">
        {one(words.x(unit), x, setX)}
        {one(words.y(unit), y, setY)}
        {one(words.thickness(unit), thickness, setThickness, field)}
        <button type="submit" class="main">
          {words.note}
        </button>
      </div>
      <FormProblem problem={problem} />
      {props.next.length > 0 ? (
        <div class="row">
          <span class="soft">{words.nextAt}</span>
          {props.next.map((n, i) => (
            <button type="button" key={`${n.x} ${n.y}`} onClick={() => props.onAt({ x: n.x, y: n.y })}>
              {words.nextPlace(i + 1, figureOf(n.x, unit, 0), figureOf(n.y, unit, 0))}
            </button>
          ))}
        </div>
      ) : null}
    </form>
  );
}
