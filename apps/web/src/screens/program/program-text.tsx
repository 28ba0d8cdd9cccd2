import { useEffect, useRef, useState } from 'preact/hooks';
import { text } from '../../text/catalogue.js';
import type { ShownProgram } from '../../work/shown-wire.js';

const words = text.program;
/** Height of a line, px: what a thumb can hit. */
const ROW = 44;
/** Lines drawn beyond what is seen. */
const MORE = 4;

/** A program's text, of which only the lines that are seen are there: tens of thousands scroll as easily as ten. */
export function ProgramText(props: {
  readonly program: ShownProgram;
  readonly line: number;
  readonly onLine: (line: number) => void;
}) {
  const { program, line, onLine } = props;
  const count = program.lineStarts.length;
  const box = useRef<HTMLDivElement>(null);
  const [first, setFirst] = useState(0);
  const [seen, setSeen] = useState(12);
  useEffect(() => {
    const at = box.current!;
    const measure = () => setSeen(Math.max(1, Math.ceil(at.clientHeight / ROW)));
    measure();
    const watch = new ResizeObserver(measure);
    watch.observe(at);
    return () => watch.disconnect();
  }, []);
  useEffect(() => {
    const at = box.current!;
    const top = (line - 1) * ROW;
    // Brought into sight only when it is not, so that the text stands still under the eye.
    if (top < at.scrollTop || top + ROW > at.scrollTop + at.clientHeight)
      at.scrollTop = Math.max(0, top - Math.floor(at.clientHeight / ROW / 3) * ROW);
  }, [line]);
  const lineText = (n: number): string =>
    program.text.slice(program.lineStarts[n]!, (program.lineStarts[n + 1] ?? program.text.length + 1) - 1);
  const from = Math.max(0, first - MORE);
  const to = Math.min(count, first + seen + MORE);
  const step = (by: number): void => onLine(Math.min(count, Math.max(1, line + by)));
  const keys: Readonly<Record<string, () => void>> = {
    ArrowDown: () => step(1),
    ArrowUp: () => step(-1),
    PageDown: () => step(seen - 1),
    PageUp: () => step(1 - seen),
    Home: () => onLine(1),
    End: () => onLine(count),
  };
  return (
    <div
      ref={box}
      class="program-text"
      role="listbox"
      tabIndex={0}
      aria-label={words.textOf(program.file)}
      // A line that is out of sight is not there to be named.
      aria-activedescendant={line > from && line <= to ? `line-${line}` : undefined}
      onScroll={(e) => setFirst(Math.floor(e.currentTarget.scrollTop / ROW))}
      onKeyDown={(e) => {
        const act = keys[e.key];
        if (!act) return;
        e.preventDefault();
        act();
      }}
    >
      <div style={{ height: `${count * ROW}px` }}>
        {Array.from({ length: Math.max(0, to - from) }, (_, k) => from + k).map((n) => (
          // biome-ignore lint/a11y/useKeyWithClickEvents: the listbox takes the keys
          // biome-ignore lint/a11y/useFocusableInteractive: named by aria-activedescendant
          <div
            key={n}
            id={`line-${n + 1}`}
            role="option"
            aria-selected={n + 1 === line}
            aria-setsize={count}
            aria-posinset={n + 1}
            class="program-line"
            style={{ top: `${n * ROW}px`, height: `${ROW}px` }}
            onClick={() => onLine(n + 1)}
          >
            <span class="number">{n + 1}</span>
            <code>{lineText(n) || ' '}</code>
          </div>
        ))}
      </div>
    </div>
  );
}
