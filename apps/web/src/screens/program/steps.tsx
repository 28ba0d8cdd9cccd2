import { type DisplayUnit, formatLength } from '../../job/display-unit.js';
import { text } from '../../text/catalogue.js';
import { useGrowing } from '../../ui/use-growing.js';
import type { ShownProgram } from '../../work/shown-wire.js';

const words = text.program;

/** How long work takes, in words. */
export const stepTime = (s: number): string => {
  const whole = Math.round(s);
  return whole < 60 ? words.seconds(s) : words.clock(Math.floor(whole / 60), whole % 60);
};

/** The workingsteps of a program in order: what, with which cutter, how deep, how long; where it waits; from where it can be taken up again. */
export function Steps(props: {
  readonly program: ShownProgram;
  readonly unit: DisplayUnit;
  readonly onLine: (line: number) => void;
}) {
  const { steps } = props.program;
  const count = useGrowing(steps.length);
  return (
    <ol class="worksteps">
      {steps.slice(0, count).map((s) => (
        <li key={s.number}>
          <span class="number">{s.number}</span>
          <span>
            <strong>{s.part}</strong> {words.what(s.kind, s.feature)}
            <span class="soft"> {words.how(s.cutter, formatLength(s.depth, props.unit), s.passes)}</span>
          </span>
          <span class="time">{stepTime(s.seconds)}</span>
          <button
            type="button"
            aria-label={words.takeUpAt(s.number, s.line)}
            onClick={() => props.onLine(s.line)}
          >
            {words.line(s.line)}
          </button>
          {s.waits.map((w) => (
            <span key={w} class="wait">
              <span aria-hidden="true">❚❚ </span>
              {words.waits(w)}
            </span>
          ))}
        </li>
      ))}
    </ol>
  );
}
