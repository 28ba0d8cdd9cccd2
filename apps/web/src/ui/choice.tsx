import { useId } from 'preact/hooks';

/** One of a few, as buttons side by side; the arrow keys go from one to the next. */
export function Choice<T extends string>(props: {
  readonly label: string;
  readonly hidden?: boolean;
  readonly value: T | null;
  readonly options: readonly { readonly value: T; readonly label: string }[];
  readonly onChoose: (value: T) => void;
}) {
  const id = useId();
  const at = Math.max(
    0,
    props.options.findIndex((o) => o.value === props.value),
  );
  return (
    <div class="named">
      <span id={id} class={props.hidden ? 'unseen' : undefined}>
        {props.label}
      </span>
      <div
        class="segments"
        role="radiogroup"
        aria-labelledby={id}
        onKeyDown={(e) => {
          const step = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 }[e.key];
          if (step === undefined) return;
          e.preventDefault();
          const n = props.options.length;
          const next = (at + step + n) % n;
          props.onChoose(props.options[next]!.value);
          (e.currentTarget.children[next] as HTMLElement).focus();
        }}
      >
        {props.options.map((o, i) => (
          // biome-ignore lint/a11y/useSemanticElements: a button that looks pressed is easier to hit than a dot
          <button
            key={o.value}
            type="button"
            role="radio"
            aria-checked={o.value === props.value}
            tabIndex={i === at ? 0 : -1}
            onClick={() => props.onChoose(o.value)}
          >
            {o.value === props.value ? '● ' : '○ '}
            {o.label}
          </button>
        ))}
      </div>
    </div>
  );
}
