import type { ComponentChildren } from 'preact';

/** A labelled field for one figure among several of a form: what is typed is given on as it stands, and judged by the form. */
export function FigureField(props: {
  readonly label: ComponentChildren;
  /** Its width in figures. */
  readonly size: number;
  readonly value: string;
  readonly onTyped: (typed: string) => void;
}) {
  return (
    <label>
      {props.label}
      <br />
      <input
        type="text"
        inputMode="decimal"
        size={props.size}
        autoComplete="off"
        value={props.value}
        onInput={(e) => props.onTyped(e.currentTarget.value)}
      />
    </label>
  );
}
