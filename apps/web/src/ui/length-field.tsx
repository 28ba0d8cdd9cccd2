import { readLength } from '@haunch/model';
import { useId, useLayoutEffect, useState } from 'preact/hooks';
import { type DisplayUnit, figureOf, lengthText } from '../job/display-unit.js';
import { text } from '../text/catalogue.js';

/** A field for a length. What is typed is checked when it is left or Enter is pressed, and given on as the job file has it. */
export function LengthField(props: {
  readonly label: string;
  /** The length as it is, mm; null where there is none. */
  readonly value: number | null;
  readonly unit: DisplayUnit;
  readonly places?: number;
  readonly least?: number;
  readonly optional?: boolean;
  readonly focus?: boolean;
  readonly hint?: string;
  /** Text with a unit, or null where the field was emptied. */
  readonly onLength: (written: string | null, mm: number | null) => void;
}) {
  const shown = props.value === null ? '' : figureOf(props.value, props.unit, props.places ?? 2);
  const [typed, type] = useState(shown);
  const [problem, say] = useState<string | null>(null);
  const id = useId();
  // Before anything is drawn: what is typed at once must not be overtaken by what the field had.
  useLayoutEffect(() => {
    type(shown);
    say(null);
  }, [shown]);
  const take = () => {
    if (typed === shown) return;
    if (typed.trim() === '') {
      if (props.optional) props.onLength(null, null);
      else type(shown);
      return;
    }
    const written = lengthText(typed, props.unit);
    const length = readLength(written);
    if (typeof length !== 'number') return say(length.problem);
    if (length < (props.least ?? -Infinity)) return say(text.shell.tooSmall);
    say(null);
    props.onLength(written, length);
  };
  return (
    <div>
      <label for={id}>
        {props.label} <span class="soft small">{props.unit === 'mm' ? text.shell.mm : text.shell.inch}</span>
      </label>
      <br />
      <input
        id={id}
        type="text"
        inputMode="decimal"
        size={9}
        autoComplete="off"
        value={typed}
        // biome-ignore lint/a11y/noAutofocus: only where a person has just asked for this field
        autoFocus={props.focus ?? false}
        aria-invalid={problem === null ? undefined : 'true'}
        aria-describedby={problem === null && !props.hint ? undefined : `${id}-more`}
        onInput={(e) => type(e.currentTarget.value)}
        onBlur={take}
        onKeyDown={(e) => {
          if (e.key === 'Enter') take();
        }}
      />
      {problem !== null || props.hint ? (
        <p
          id={`${id}-more`}
          class={problem === null ? 'soft small' : 'small word-of bad'}
          role={problem === null ? undefined : 'alert'}
        >
          {problem ?? props.hint}
        </p>
      ) : null}
    </div>
  );
}
