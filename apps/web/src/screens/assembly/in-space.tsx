import { useEffect, useRef, useState } from 'preact/hooks';
import { text } from '../../text/catalogue.js';
import { useKnown } from '../../ui/use-page.js';
import type { DrawnAssembly } from '../../work/assembly-wire.js';
import type { Eye, PlacedName, Space, SpaceColours } from './space.js';

const words = text.assembly;
const FIRST: Eye = { azimuth: 0.48, elevation: 0.37, zoom: 1 };
/** How far a key or a button turns, radians, and how far a drag over the picture's width. */
const TURN = Math.PI / 12;
const DRAG = Math.PI;

const held = (eye: Eye): Eye => ({
  azimuth: eye.azimuth,
  elevation: Math.min(Math.PI / 2, Math.max(-Math.PI / 2, eye.elevation)),
  zoom: Math.min(8, Math.max(0.5, eye.zoom)),
});

function coloursOf(element: HTMLElement): SpaceColours {
  const style = getComputedStyle(element);
  const of = (name: string): string => style.getPropertyValue(name).trim();
  return { wood: of('--plate'), moving: of('--plate-moving'), ink: of('--plate-ink'), way: of('--follow') };
}

/** The piece in space, turned by dragging, by buttons and by keys. Asks for another picture where the browser cannot draw it. */
export function InSpace(props: {
  readonly assembly: DrawnAssembly;
  readonly at: number;
  readonly label: string;
  readonly onNone: () => void;
}) {
  const { assembly, at } = props;
  const place = useRef<HTMLDivElement>(null);
  const canvas = useRef<HTMLCanvasElement>(null);
  const space = useRef<Space | null>(null);
  const [ready, setReady] = useState(false);
  const [eye, setEye] = useState<Eye>(FIRST);
  const [names, setNames] = useState<readonly PlacedName[]>([]);
  const drag = useRef<{ readonly x: number; readonly y: number; readonly from: Eye } | null>(null);
  const theme = useKnown((s) => s.settings.theme);

  useEffect(() => {
    let wanted = true;
    let watch: ResizeObserver | null = null;
    setReady(false);
    // Three dimensions are loaded with the first piece that is looked at.
    void import('./space.js')
      .then(({ Space }) => {
        if (!wanted) return;
        const made = new Space(canvas.current!, assembly, coloursOf(place.current!));
        space.current = made;
        const fit = () => {
          const { clientWidth: w, clientHeight: h } = place.current!;
          made.resize(Math.max(200, w), Math.max(200, h), coloursOf(place.current!));
          setNames(made.draw());
        };
        watch = new ResizeObserver(fit);
        watch.observe(place.current!);
        fit();
        setReady(true);
      })
      .catch(() => {
        if (wanted) props.onNone();
      });
    return () => {
      wanted = false;
      watch?.disconnect();
      space.current?.dispose();
      space.current = null;
    };
  }, [assembly, theme]);

  useEffect(() => {
    const made = space.current;
    if (!made) return;
    const frame = requestAnimationFrame(() => {
      made.look(eye);
      made.show(at);
      setNames(made.draw());
    });
    return () => cancelAnimationFrame(frame);
  }, [eye, at, ready]);

  const turn = (azimuth: number, elevation: number, zoom = 1): void =>
    setEye((e) =>
      held({ azimuth: e.azimuth + azimuth, elevation: e.elevation + elevation, zoom: e.zoom * zoom }),
    );
  const keys: Readonly<Record<string, () => void>> = {
    ArrowLeft: () => turn(-TURN, 0),
    ArrowRight: () => turn(TURN, 0),
    ArrowUp: () => turn(0, TURN),
    ArrowDown: () => turn(0, -TURN),
    '+': () => turn(0, 0, 1.25),
    '-': () => turn(0, 0, 0.8),
    Home: () => setEye(FIRST),
  };
  const picture = (
    // biome-ignore lint/a11y/useSemanticElements: a picture that turns under the arrow keys
    <div
      ref={place}
      class="in-space"
      role="group"
      // biome-ignore lint/a11y/noNoninteractiveTabindex: the arrow keys turn it
      tabIndex={0}
      aria-label={props.label}
      onKeyDown={(e) => {
        const act = keys[e.key];
        if (!act) return;
        e.preventDefault();
        act();
      }}
      onPointerDown={(e) => {
        if (e.button !== 0) return;
        e.currentTarget.setPointerCapture(e.pointerId);
        drag.current = { x: e.clientX, y: e.clientY, from: eye };
      }}
      onPointerMove={(e) => {
        const d = drag.current;
        if (!d) return;
        const per = DRAG / e.currentTarget.clientWidth;
        setEye(
          held({
            ...d.from,
            azimuth: d.from.azimuth - (e.clientX - d.x) * per,
            elevation: d.from.elevation + (e.clientY - d.y) * per,
          }),
        );
      }}
      onPointerUp={() => {
        drag.current = null;
      }}
      onPointerCancel={() => {
        drag.current = null;
      }}
    >
      <canvas ref={canvas} />
      {ready ? null : <p class="soft">{words.loading}</p>}
      {names.map((n) => (
        <span key={n.id} class="plate-name" aria-hidden="true" style={{ left: `${n.x}px`, top: `${n.y}px` }}>
          {n.id}
        </span>
      ))}
    </div>
  );
  return (
    <>
      {picture}
      <div class="row">
        <button type="button" onClick={() => turn(-TURN, 0)}>
          {words.turnLeft}
        </button>
        <button type="button" onClick={() => turn(TURN, 0)}>
          {words.turnRight}
        </button>
        <button type="button" onClick={() => turn(0, TURN)}>
          {words.fromAbove}
        </button>
        <button type="button" onClick={() => turn(0, -TURN)}>
          {words.fromBelow}
        </button>
        <button type="button" onClick={() => turn(0, 0, 1.25)}>
          {words.nearer}
        </button>
        <button type="button" onClick={() => turn(0, 0, 0.8)}>
          {words.farther}
        </button>
        <button type="button" onClick={() => setEye(FIRST)}>
          {words.asFirst}
        </button>
      </div>
    </>
  );
}
