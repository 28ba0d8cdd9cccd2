import { useRef, useState } from 'preact/hooks';
import { type DisplayUnit, figureOf } from '../../job/display-unit.js';
import { text } from '../../text/catalogue.js';
import { placeIn } from '../../ui/place-in.js';
import type { RefereeWord, WirePlacement, WirePlacements } from '../../work/lay-wire.js';
import type { ShownBoard, ShownItem } from '../../work/shown-wire.js';
import { drawnAt, laidOver, moved, onBoard, turnedOn } from './lying.js';

const words = text.layout;

/** How far an arrow key moves a part, mm: alone, with Shift, with Alt. */
const STEP = { alone: 1, shift: 10, alt: 0.1 };

/** The page moves along while a part is dragged so near its upper or lower end, px: the bench covers the lower one. */
const [NEAR_TOP, NEAR_BOTTOM, ALONG] = [60, 150, 24];

/** A board to scale with its parts as they lie. A part is dragged, to another board too, or moved by arrow keys; R turns it. */
export function LaidSheet(props: {
  readonly board: ShownBoard;
  /** All boards that are drawn, this one too: a part may be dragged from one to another. */
  readonly boards: readonly ShownBoard[];
  /** The part that is on its way, wherever it is: it is drawn over all others. */
  readonly onTheWay: string | null;
  readonly items: readonly ShownItem[];
  readonly placements: WirePlacements;
  readonly word: RefereeWord | null;
  readonly chosen: string | null;
  /** Whether all lies as it was made: only then is the rest what is left. */
  readonly made: boolean;
  /** Whether parts can be moved now. */
  readonly still: boolean;
  readonly unit: DisplayUnit;
  readonly onChoose: (item: string) => void;
  /** A part lies elsewhere; `done` when it is let go. */
  readonly onMove: (item: string, to: WirePlacement, done: 'under way' | 'soon' | 'done') => void;
}) {
  const { board, placements, unit } = props;
  const svg = useRef<SVGSVGElement>(null);
  const [drag, setDrag] = useState<{
    readonly item: ShownItem;
    readonly from: WirePlacement;
    /** Where it was taken hold of, on this board. mm */
    readonly x: number;
    readonly y: number;
  } | null>(null);
  const { width: w, height: h } = board;
  const u = Math.max(w, h * 1.2) / 100;
  const broken = new Set(props.word?.breaches.flatMap((b) => b.items) ?? []);
  const dragged = (e: PointerEvent): WirePlacement | null => {
    if (!drag) return null;
    const { item, from } = drag;
    const [sheet, over] = sheetAt(e, props.boards) ?? [svg.current!, board];
    if (over.id === board.id || !item.boards.includes(over.id)) {
      const at = placeIn(svg.current!, e);
      return moved(from, at.x - drag.x, h - at.y - drag.y);
    }
    const at = placeIn(sheet, e);
    return laidOver(from, drag, { board: over.id, x: at.x, y: over.height - at.y });
  };
  const keys = (e: KeyboardEvent, item: ShownItem): void => {
    const by = e.altKey ? STEP.alt : e.shiftKey ? STEP.shift : STEP.alone;
    const way = ({ ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] } as const)[
      e.key
    ];
    const now = placements[item.item]!;
    if (e.key === 'Enter' || e.key === ' ') props.onChoose(item.item);
    else if (props.still || e.ctrlKey || e.metaKey) return;
    else if (way) props.onMove(item.item, moved(now, way[0] * by, way[1] * by), 'soon');
    else if (e.key === 'r' || e.key === 'R') props.onMove(item.item, turnedOn(item, now), 'soon');
    else return;
    e.preventDefault();
  };
  return (
    // biome-ignore lint/a11y/useSemanticElements: a drawing whose parts are buttons
    <svg
      ref={svg}
      class="laid-sheet"
      data-board={board.id}
      viewBox={`${-3 * u} ${-3 * u} ${w + 6 * u} ${h + 6 * u}`}
      role="group"
      aria-label={words.pictureOf(board.id, figureOf(w, unit, 0), figureOf(h, unit, 0), props.items.length)}
      onPointerMove={(e) => {
        const to = dragged(e);
        if (!to || !drag) return;
        props.onMove(drag.item.item, to, 'under way');
        if (e.clientY > innerHeight - NEAR_BOTTOM) scrollBy(0, ALONG);
        else if (e.clientY < NEAR_TOP) scrollBy(0, -ALONG);
      }}
      onPointerUp={(e) => {
        const to = dragged(e);
        if (!drag) return;
        const over = sheetAt(e, props.boards)?.[1];
        // Let go over a board that it cannot be cut from, it goes back to where it lay.
        if (over && over.id !== board.id && !drag.item.boards.includes(over.id)) {
          props.onMove(drag.item.item, drag.from, 'done');
          setDrag(null);
          return;
        }
        const stays = (p: WirePlacement, q: WirePlacement): boolean =>
          p.board === q.board && p.at[0] === q.at[0] && p.at[1] === q.at[1];
        // Where it was dragged away and back, it still is on its way.
        if (to && (!stays(to, drag.from) || props.onTheWay === drag.item.item))
          props.onMove(drag.item.item, to, 'done');
        setDrag(null);
      }}
      onPointerCancel={() => {
        if (drag) props.onMove(drag.item.item, drag.from, 'done');
        setDrag(null);
      }}
    >
      <defs>
        <pattern
          id={`hatch-${board.id}`}
          width={2 * u}
          height={2 * u}
          patternUnits="userSpaceOnUse"
          patternTransform="rotate(45)"
        >
          <path d={`M0 0V${2 * u}`} stroke="currentColor" stroke-width={u * 0.5} />
        </pattern>
      </defs>
      <g transform={`translate(0 ${h})`}>
        <path class="board" d={board.outline} stroke-width={u * 0.35} />
        {board.keepOuts.map((d) => (
          <path key={d} class="keep-out" d={d} fill={`url(#hatch-${board.id})`} stroke-width={u * 0.2} />
        ))}
      </g>
      {board.grain === null ? null : (
        <path
          class="grain"
          stroke-width={u * 0.3}
          d={
            board.grain === 'x'
              ? `M0 ${-1.4 * u}h${14 * u}m${-1.5 * u} ${-0.7 * u}l${1.5 * u} ${0.7 * u}l${-1.5 * u} ${0.7 * u}`
              : `M${-1.4 * u} ${h}v${-14 * u}m${-0.7 * u} ${1.5 * u}l${0.7 * u} ${-1.5 * u}l${0.7 * u} ${1.5 * u}`
          }
        />
      )}
      {props.made
        ? board.left.map(({ id, box: [x, y, width, height], d }) => (
            <g key={id} class="left">
              {d === undefined ? (
                <rect
                  x={x}
                  y={h - y - height}
                  width={width}
                  height={height}
                  stroke-width={u * 0.25}
                  stroke-dasharray={`${2 * u} ${u}`}
                />
              ) : (
                <path
                  d={d}
                  transform={`translate(0 ${h})`}
                  stroke-width={u * 0.25}
                  stroke-dasharray={`${2 * u} ${u}`}
                />
              )}
              <text
                x={x + width / 2}
                y={h - y - height / 2}
                font-size={Math.min(1.6 * u, (1.5 * width) / id.length)}
                text-anchor="middle"
              >
                {id}
              </text>
            </g>
          ))
        : null}
      {props.made && board.ladder.length > 0 ? (
        <g class="ladder" transform={`translate(0 ${h})`}>
          {board.ladder.map((d) => (
            <path key={d} d={d} stroke-width={u * 0.25} stroke-dasharray={`${0.5 * u} ${0.5 * u}`}>
              <title>{words.ladder}</title>
            </path>
          ))}
        </g>
      ) : null}
      {props.items.map((item) => {
        const p = placements[item.item]!;
        const d = drawnAt(item, p);
        const label = onBoard(item.label.x, item.label.y, d);
        const letter = Math.min(2.6 * u, Math.max(1.5 * u, item.label.room * 0.8));
        const wrong = broken.has(item.item);
        const long = Math.min(6 * u, item.label.room * 1.6);
        return (
          // biome-ignore lint/a11y/useSemanticElements: a part of a drawing
          <g
            key={item.item}
            id={`part-${item.item}`}
            class={`laid${props.chosen === item.item ? ' chosen' : ''}${wrong ? ' wrong' : ''}`}
            role="button"
            tabIndex={0}
            aria-pressed={props.chosen === item.item}
            aria-label={words.partAt(
              item.item,
              item.name,
              figureOf(p.at[0], unit, 1),
              figureOf(p.at[1], unit, 1),
              p.turnDegrees,
              wrong,
            )}
            onFocus={() => props.onChoose(item.item)}
            onKeyDown={(e) => keys(e, item)}
            onPointerDown={(e) => {
              if (e.button !== 0) return;
              props.onChoose(item.item);
              if (props.still) return;
              svg.current!.setPointerCapture(e.pointerId);
              const at = placeIn(svg.current!, e);
              setDrag({ item, from: p, x: at.x, y: h - at.y });
            }}
          >
            <g transform={`translate(${d.dx} ${h - d.dy}) rotate(${-d.turn})`}>
              <path
                class="plate"
                d={item.outline}
                stroke-width={wrong ? u * 0.7 : u * 0.3}
                {...(wrong ? { 'stroke-dasharray': `${1.4 * u} ${0.8 * u}` } : {})}
              />
              {item.cuts.map((c) => (
                <path key={c.d} class={c.kind} d={c.d} stroke-width={u * 0.2} />
              ))}
              {item.grain === null ? null : (
                <path
                  class="part-grain"
                  stroke-width={u * 0.18}
                  d={grainLines(item.label.x, -item.label.y, long, letter * 0.85, item.grain)}
                />
              )}
            </g>
            <text x={label.x} y={h - label.y + letter * 0.35} font-size={letter} text-anchor="middle">
              {`${wrong ? '✕ ' : ''}${item.item}${item.showUp === null ? '' : item.showUp ? ' ▲' : ' ▽'}`}
            </text>
          </g>
        );
      })}
      {props.items.some((i) => i.item === props.onTheWay) ? (
        <use href={`#part-${props.onTheWay}`} pointer-events="none" />
      ) : null}
      <g transform={`translate(0 ${h})`}>
        {(board.defects ?? []).map(({ d, face }) => (
          <path
            key={`${face} ${d}`}
            class="defect"
            d={d}
            stroke-width={u * 0.4}
            stroke-dasharray={`${0.4 * u} ${0.6 * u}`}
          >
            <title>{words.flawOf[face]}</title>
          </path>
        ))}
      </g>
      {props.word?.breaches.map((b) =>
        b.at && b.board === board.id ? (
          <circle
            key={b.message}
            class="breach"
            cx={b.at.x}
            cy={h - b.at.y}
            r={2 * u}
            stroke-width={u * 0.5}
          />
        ) : null,
      )}
    </svg>
  );
}

/** The drawn board under a pointer, with what is drawn on it. */
function sheetAt(
  e: PointerEvent,
  boards: readonly ShownBoard[],
): readonly [SVGSVGElement, ShownBoard] | null {
  for (const at of document.elementsFromPoint(e.clientX, e.clientY)) {
    const sheet = at.closest<SVGSVGElement>('.laid-sheet');
    const board = sheet && boards.find((b) => b.id === sheet.dataset.board);
    if (sheet && board) return [sheet, board];
  }
  return null;
}

/** Two strokes along the grain, above and below a part's name. */
function grainLines(x: number, y: number, long: number, off: number, grain: 'x' | 'y'): string {
  return [-off, off]
    .map((o) => (grain === 'x' ? `M${x - long / 2} ${y + o}h${long}` : `M${x + o} ${y - long / 2}v${long}`))
    .join('');
}
