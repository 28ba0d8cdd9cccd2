import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import { type DisplayUnit, figureOf, formatLength } from '../../job/display-unit.js';
import { text } from '../../text/catalogue.js';
import { useKnown } from '../../ui/use-page.js';
import type { ShownProgram } from '../../work/shown-wire.js';
import { ProgramText } from './program-text.js';
import { ReplayCanvas, type ReplayColours } from './replay-canvas.js';
import { Track } from './track.js';

const words = text.program;
const PACES = [1, 10, 60] as const;

function coloursOf(element: HTMLElement): ReplayColours {
  const style = getComputedStyle(element);
  const of = (name: string): string => style.getPropertyValue(name).trim();
  return {
    sheet: of('--wood-light'),
    ink: of('--ink'),
    cut: of('--replay-cut'),
    core: of('--replay-core'),
    travel: of('--accent'),
    cutter: of('--bad'),
  };
}

const clock = (hundredths: number): string => {
  const s = Math.floor(hundredths / 100);
  return words.clock(Math.floor(s / 60), s % 60);
};

/** A program replayed: the sheet as it is cut up to a moment, and its text beside it, each line leading to its move and back. */
export function Replay(props: {
  readonly program: ShownProgram;
  readonly unit: DisplayUnit;
  /** A line to turn to; another one with the same number turns there again. */
  readonly at: { readonly line: number };
}) {
  const { program, unit } = props;
  const track = useMemo(() => new Track(program), [program]);
  const [time, setTime] = useState(0);
  /** A line that was chosen though nothing moves in it; else the line of the motion. */
  const [chosen, choose] = useState<number | null>(null);
  const [running, run] = useState(false);
  const [pace, setPace] = useState<(typeof PACES)[number]>(10);
  const place = useRef<HTMLDivElement>(null);
  const canvas = useRef<HTMLCanvasElement>(null);
  const picture = useRef<ReplayCanvas | null>(null);
  const theme = useKnown((s) => s.settings.theme);
  const now = track.at(time);
  const line = chosen ?? track.line(now);

  useEffect(() => {
    const box = place.current;
    if (!box || !canvas.current) return;
    const drawn = new ReplayCanvas(canvas.current, program, coloursOf(box));
    picture.current = drawn;
    const fit = () => drawn.resize(Math.max(240, box.clientWidth), coloursOf(box));
    fit();
    drawn.show(time);
    const watch = new ResizeObserver(fit);
    watch.observe(box);
    const dark = matchMedia('(prefers-color-scheme: dark)');
    dark.addEventListener('change', fit);
    return () => {
      watch.disconnect();
      dark.removeEventListener('change', fit);
      drawn.stop();
      picture.current = null;
    };
  }, [program, theme]);

  useEffect(() => picture.current?.show(time), [time]);

  const go = (t: number): void => {
    choose(null);
    setTime(Math.min(track.end, Math.max(0, t)));
  };
  const goToLine = (n: number): void => {
    run(false);
    const i = track.ofLine(n);
    setTime(i === null ? track.end : track.moment(i));
    choose(n);
  };
  useEffect(() => goToLine(props.at.line), [props.at, program]);

  useEffect(() => {
    if (!running) return;
    let [last, t, frame] = [performance.now(), time >= track.end ? 0 : time, 0];
    choose(null);
    const tick = (at: number): void => {
      t = Math.min(track.end, t + (Math.min(100, at - last) / 10) * pace);
      last = at;
      setTime(t);
      if (t >= track.end) run(false);
      else frame = requestAnimationFrame(tick);
    };
    frame = requestAnimationFrame(tick);
    return () => cancelAnimationFrame(frame);
  }, [running, pace]);

  const tip = track.tip(time);
  const deep = program.top - tip.z;
  const does =
    now >= track.count
      ? words.does.done
      : track.depth(now) === 'travel'
        ? words.does.travel
        : track.depth(now) === 'through'
          ? words.does.through
          : words.does.partWay(formatLength(Math.max(0, deep), unit));
  const step = program.steps.filter((s) => s.line <= line).at(-1);
  const state = words.now({
    time: clock(time),
    of: clock(track.end),
    line,
    x: figureOf(tip.x, unit, 1),
    y: figureOf(tip.y, unit, 1),
    z: formatLength(tip.z, unit),
    does,
  });
  return (
    <div class="replay">
      <div class="stack">
        <div ref={place} class="replay-place">
          <canvas ref={canvas} role="img" aria-label={words.pictureOf(program.board)} />
        </div>
        <div class="replay-slider">
          <label for="replay-time">{words.time}</label>
          <input
            id="replay-time"
            type="range"
            min={0}
            max={Math.max(1, Math.round(track.end))}
            step={1}
            value={Math.round(time)}
            aria-valuetext={state}
            onInput={(e) => {
              run(false);
              go(Number(e.currentTarget.value));
            }}
          />
        </div>
        <div class="row">
          <button type="button" class="main" onClick={() => run(!running)}>
            {running ? words.hold : words.run}
          </button>
          <button
            type="button"
            onClick={() => {
              run(false);
              go(now <= 1 ? 0 : track.moment(now - 1));
            }}
          >
            {words.back}
          </button>
          <button
            type="button"
            onClick={() => {
              run(false);
              go(now + 1 < track.count ? track.moment(now + 1) : track.end);
            }}
          >
            {words.on}
          </button>
          <label>
            {words.pace}{' '}
            <select
              value={pace}
              onChange={(e) => setPace(Number(e.currentTarget.value) as (typeof PACES)[number])}
            >
              {PACES.map((p) => (
                <option key={p} value={p}>
                  {words.paces[p]}
                </option>
              ))}
            </select>
          </label>
        </div>
        <p class="replay-state">{state}</p>
        {step ? <p class="soft">{words.inStep(step.number, step.part, step.feature, step.cutter)}</p> : null}
        <Legend />
      </div>
      <ProgramText program={program} line={line} onLine={goToLine} />
    </div>
  );
}

function Legend() {
  return (
    <ul class="replay-legend soft small">
      <li>
        <svg viewBox="0 0 44 14" aria-hidden="true">
          <path class="cut" d="M6 7h32" />
        </svg>
        {words.legend.through}
      </li>
      <li>
        <svg viewBox="0 0 44 14" aria-hidden="true">
          <path class="cut" d="M6 7h32" />
          <path class="core" d="M6 7h32" />
        </svg>
        {words.legend.partWay}
      </li>
      <li>
        <svg viewBox="0 0 44 14" aria-hidden="true">
          <path class="travel" d="M2 7h40" />
        </svg>
        {words.legend.travel}
      </li>
      <li>
        <svg viewBox="0 0 44 14" aria-hidden="true">
          <path class="cutter" d="M12 7h20M22 0v14" />
        </svg>
        {words.legend.cutter}
      </li>
    </ul>
  );
}
