import * as Comlink from 'comlink';
import { useEffect, useRef, useState } from 'preact/hooks';
import { text } from '../../text/catalogue.js';
import { useKnown } from '../../ui/use-page.js';
import type { DrawnAssembly } from '../../work/assembly-wire.js';
import type { Eye, PlacedName, SpaceColours } from './space.js';
import type { SpaceService } from './space-worker.js';

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
  const easel = useRef<HTMLDivElement>(null);
  const remote = useRef<Comlink.Remote<SpaceService> | null>(null);
  const [ready, setReady] = useState(false);
  const [eye, setEye] = useState<Eye>(FIRST);
  const [names, setNames] = useState<readonly PlacedName[]>([]);
  const drag = useRef<{ readonly x: number; readonly y: number; readonly from: Eye } | null>(null);
  const theme = useKnown((s) => s.settings.theme);
  const wanted = useRef({ at, eye });
  wanted.current = { at, eye };
  /** One picture is drawn at a time, then that of what is wanted by then. */
  const drawing = useRef<'no' | 'one' | 'again'>('no');
  const draw = (): void => {
    const space = remote.current;
    if (!space || drawing.current !== 'no') {
      if (drawing.current === 'one') drawing.current = 'again';
      return;
    }
    drawing.current = 'one';
    void space.draw(wanted.current.at, wanted.current.eye).then((found) => {
      const again = drawing.current === 'again';
      drawing.current = 'no';
      if (remote.current !== space) return;
      setNames(found);
      if (again) draw();
    });
  };

  useEffect(() => {
    const box = place.current!;
    const canvas = document.createElement('canvas');
    if (!canvas.transferControlToOffscreen) return props.onNone();
    // Three dimensions are loaded with the first piece that is looked at, and in a worker: they start slowly.
    const worker = new Worker(new URL('./space-worker.ts', import.meta.url), { type: 'module' });
    worker.addEventListener('error', props.onNone);
    const space = Comlink.wrap<SpaceService>(worker);
    const offscreen = canvas.transferControlToOffscreen();
    const fit = (): void => {
      // Out of the page it has no size, and names would be placed for none.
      if (box.clientWidth === 0) return;
      const size = {
        width: Math.max(200, box.clientWidth),
        height: Math.max(200, box.clientHeight),
        dots: Math.min(2, devicePixelRatio || 1),
      };
      void space.resize(size, coloursOf(box));
      draw();
    };
    const watch = new ResizeObserver(fit);
    easel.current!.append(canvas);
    let here = true;
    void space.start(Comlink.transfer(offscreen, [offscreen]), assembly, coloursOf(box)).then((drawn) => {
      if (!here) return;
      if (!drawn) return props.onNone();
      remote.current = space;
      drawing.current = 'no';
      watch.observe(box);
      setReady(true);
    });
    return () => {
      here = false;
      remote.current = null;
      watch.disconnect();
      canvas.remove();
      worker.terminate();
      setReady(false);
    };
  }, [assembly]);

  useEffect(() => {
    const space = remote.current;
    const box = place.current!;
    if (!space) return;
    const recolour = (): void => {
      const { clientWidth: width, clientHeight: height } = box;
      if (width === 0) return;
      void space.resize({ width, height, dots: Math.min(2, devicePixelRatio || 1) }, coloursOf(box));
      draw();
    };
    recolour();
    const dark = matchMedia('(prefers-color-scheme: dark)');
    dark.addEventListener('change', recolour);
    return () => dark.removeEventListener('change', recolour);
  }, [theme, ready]);

  useEffect(draw, [eye, at, ready]);

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
      <div ref={easel} class="easel" />
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
