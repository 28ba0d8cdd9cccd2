import { useRef, useState } from 'preact/hooks';
import { type DisplayUnit, figureOf } from '../../job/display-unit.js';
import { text } from '../../text/catalogue.js';
import { placeIn } from '../../ui/place-in.js';
import type { BoardView } from '../../work/wire.js';

/** A place on a board, from its lower left corner, mm. */
export interface Place {
  readonly x: number;
  readonly y: number;
}

/** A rectangle on a board, mm. */
export type Box = readonly [number, number, number, number];

/** What a touch on the sheet does. */
export type Touch = 'reading' | 'keep-out' | 'defect-up' | 'defect-down' | 'screw' | 'off-cut';

const shadeOf = (t: number, least: number, most: number): number =>
  // A tenth from end to end at least, so that an even sheet does not look uneven.
  0.06 + (0.5 * (t - least)) / Math.max(0.1, most - least);

/** A sheet to scale: its map in fields, where it was measured, where it should be, what no cutter may enter. Y goes up. */
export function Sheet(props: {
  readonly width: number;
  readonly height: number;
  readonly view: BoardView | null;
  readonly readings: readonly (Place & { readonly thickness: number })[];
  /** Its edge where it is no rectangle: a path from its lower left corner, Y turned down. */
  readonly edge: string | null;
  readonly keepOuts: readonly Box[];
  readonly defects: readonly { readonly box: Box; readonly face: 'up' | 'down' | 'both' }[];
  readonly screws: readonly (Place & { readonly head: number })[];
  /** Pins or stops by which it is turned over. */
  readonly turning: readonly Place[];
  readonly grain: 'x' | 'y' | 'none';
  readonly unit: DisplayUnit;
  readonly touch: Touch;
  /** Where a reading is being typed. */
  readonly pending: Place | null;
  readonly onPlace: (at: Place) => void;
  readonly onBox: (box: Box) => void;
}) {
  const { width: w, height: h, view, unit } = props;
  const svg = useRef<SVGSVGElement>(null);
  const [drag, setDrag] = useState<{ readonly from: Place; readonly to: Place } | null>(null);
  /** The click that a drag ends with is none: it must not note a reading there. */
  const dragged = useRef(false);
  const u = Math.max(w, h * 1.2) / 100;
  const places = (e: MouseEvent): Place => {
    const at = placeIn(svg.current!, e);
    const clamp = (v: number, most: number): number => Math.min(most, Math.max(0, Math.round(v)));
    return { x: clamp(at.x, w), y: clamp(h - at.y, h) };
  };
  const boxOf = ({ from, to }: { from: Place; to: Place }): Box => [
    Math.min(from.x, to.x),
    Math.min(from.y, to.y),
    Math.max(from.x, to.x),
    Math.max(from.y, to.y),
  ];
  const rect = (b: Box) => ({ x: b[0], y: h - b[3], width: b[2] - b[0], height: b[3] - b[1] });
  const cell = view ? Math.min(view.fieldSize[0], view.fieldSize[1] * 2.2) : 0;
  // Rings and crosses stay legible: the figures of the field where one lies step back, those beside it say nearly the same.
  const marks = [
    ...(view?.next ?? []).map((p) => ({ ...p, r: 1.7 * u })),
    ...props.readings.map((p) => ({ ...p, r: u })),
  ];
  const covered = (f: Place): boolean =>
    marks.some((m) => Math.abs(m.x - f.x) < 0.38 * cell + m.r && Math.abs(m.y - f.y) < 0.27 * cell + m.r);
  const dragging = props.touch !== 'reading' && props.touch !== 'screw';
  return (
    // biome-ignore lint/a11y/useKeyWithClickEvents: for pointers; the fields below do the same by keyboard
    <svg
      ref={svg}
      class={dragging ? 'sheet dragging' : 'sheet'}
      viewBox={`${-2 * u} ${-2 * u} ${w + 4 * u} ${h + 4 * u}`}
      role="img"
      aria-label={text.boards.pictureOf(
        figureOf(w, unit, 0),
        figureOf(h, unit, 0),
        props.readings.length,
        props.keepOuts.length + props.screws.length,
        props.defects.length,
      )}
      onPointerDown={(e) => {
        dragged.current = dragging;
        if (!dragging || e.button !== 0) return;
        svg.current!.setPointerCapture(e.pointerId);
        const from = places(e);
        setDrag({ from, to: from });
      }}
      onPointerMove={(e) => {
        if (drag) setDrag({ from: drag.from, to: places(e) });
      }}
      onPointerUp={() => {
        if (!drag) return;
        const box = boxOf(drag);
        setDrag(null);
        if (box[2] - box[0] >= 5 && box[3] - box[1] >= 5) props.onBox(box);
      }}
      onPointerCancel={() => setDrag(null)}
      onClick={(e) => {
        if (!dragging && !dragged.current) props.onPlace(places(e));
      }}
    >
      <defs>
        <pattern
          id="keep-out"
          width={2 * u}
          height={2 * u}
          patternUnits="userSpaceOnUse"
          patternTransform="rotate(45)"
        >
          <path d={`M0 0V${2 * u}`} stroke="currentColor" stroke-width={u * 0.6} />
        </pattern>
      </defs>
      {view?.fields.map((f) => (
        <g key={`${f.x} ${f.y}`}>
          <rect
            x={f.x - view.fieldSize[0] / 2}
            y={h - f.y - view.fieldSize[1] / 2}
            width={view.fieldSize[0]}
            height={view.fieldSize[1]}
            class="field"
            fill-opacity={shadeOf(f.t, view.least, view.most)}
          />
          {covered(f) ? null : (
            <>
              <text x={f.x} y={h - f.y} font-size={cell * 0.27} text-anchor="middle">
                {figureOf(f.t, unit)}
              </text>
              <text
                x={f.x}
                y={h - f.y + cell * 0.24}
                font-size={cell * 0.2}
                text-anchor="middle"
                class="doubt"
              >
                {`± ${figureOf(2 * f.u, unit)}`}
              </text>
            </>
          )}
        </g>
      ))}
      {props.edge === null ? (
        <rect x={0} y={0} width={w} height={h} class="edge" stroke-width={u * 0.35} />
      ) : (
        <path d={props.edge} transform={`translate(0 ${h})`} class="edge" stroke-width={u * 0.35} />
      )}
      {props.grain === 'none' ? null : (
        <path
          class="grain"
          stroke-width={u * 0.25}
          d={
            props.grain === 'x'
              ? `M${2 * u} ${-u}h${16 * u}m${-1.5 * u} ${-0.6 * u}l${1.5 * u} ${0.6 * u}l${-1.5 * u} ${0.6 * u}`
              : `M${-u} ${h - 2 * u}v${-16 * u}m${-0.6 * u} ${1.5 * u}l${0.6 * u} ${-1.5 * u}l${0.6 * u} ${1.5 * u}`
          }
        />
      )}
      {props.keepOuts.map((b) => (
        <rect key={b.join()} {...rect(b)} class="keep-out" fill="url(#keep-out)" stroke-width={u * 0.3} />
      ))}
      {props.defects.map(({ box, face }) => (
        <rect
          key={`${face} ${box.join()}`}
          {...rect(box)}
          class="defect"
          stroke-width={u * 0.4}
          stroke-dasharray={`${u * 0.4} ${u * 0.6}`}
        >
          <title>{text.boards.flawOf(face)}</title>
        </rect>
      ))}
      {props.screws.map((s) => (
        <g key={`${s.x} ${s.y}`} class="keep-out" stroke-width={u * 0.25}>
          <circle cx={s.x} cy={h - s.y} r={Math.max(s.head / 2, u)} class="screw" />
          <path
            d={`M${s.x - 0.6 * u} ${h - s.y - 0.6 * u}l${1.2 * u} ${1.2 * u}m0 ${-1.2 * u}l${-1.2 * u} ${1.2 * u}`}
          />
        </g>
      ))}
      {props.turning.map((p) => (
        <circle
          key={`turn ${p.x} ${p.y}`}
          cx={p.x}
          cy={h - p.y}
          r={u}
          class="turning-place"
          stroke-width={u * 0.4}
        />
      ))}
      {view?.next.map((n, i) => (
        <g key={`next ${n.x} ${n.y}`} class="next">
          <circle
            cx={n.x}
            cy={h - n.y}
            r={u * 1.7}
            stroke-width={u * 0.3}
            stroke-dasharray={`${u} ${u * 0.5}`}
          />
          <text x={n.x} y={h - n.y + u * 0.75} font-size={u * 2.1} text-anchor="middle">
            {i + 1}
          </text>
        </g>
      ))}
      {props.readings.map((r) => (
        <path
          key={`read ${r.x} ${r.y} ${r.thickness}`}
          class="read"
          stroke-width={u * 0.5}
          d={`M${r.x - u} ${h - r.y}h${2 * u}M${r.x} ${h - r.y - u}v${2 * u}`}
        >
          <title>{`${figureOf(r.thickness, unit)}`}</title>
        </path>
      ))}
      {props.pending ? (
        <path
          class="pending"
          stroke-width={u * 0.4}
          d={`M${props.pending.x} ${h - props.pending.y}m${-1.6 * u} 0h${3.2 * u}m${-1.6 * u} ${-1.6 * u}v${3.2 * u}M0 ${h - props.pending.y}H${w}M${props.pending.x} 0V${h}`}
        />
      ) : null}
      {drag ? <rect {...rect(boxOf(drag))} class="pending" fill="none" stroke-width={u * 0.4} /> : null}
    </svg>
  );
}
