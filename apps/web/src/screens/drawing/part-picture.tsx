import { text } from '../../text/catalogue.js';
import type { DrawnPart } from '../../work/drawing-wire.js';

const KINDS = ['outline', 'through', 'pocket', 'hole'] as const;

/** A part to scale: its outline and what is cut in it; edges that follow thickness are drawn thick, the chosen one with a dash. */
export function PartPicture(props: {
  readonly part: DrawnPart;
  readonly small?: boolean;
  readonly edge?: string | null;
  readonly onEdge?: (edge: string) => void;
}) {
  const { part, small, edge, onEdge } = props;
  const size = Math.max(part.width, part.height);
  const room = size * 0.04;
  const box = `${-room} ${-room} ${part.width + 2 * room} ${part.height + 2 * room}`;
  const followed = part.edges.filter((e) => e.marks.length > 0);
  // Many small parts are drawn at once: a path a kind costs a tenth of a path a curve.
  if (small)
    return (
      <svg class="part small-part" viewBox={box} aria-hidden="true">
        {KINDS.map((kind) => (
          <path
            key={kind}
            class={kind}
            d={part.curves.flatMap((c) => (c.kind === kind ? [c.d] : [])).join('')}
            vector-effect="non-scaling-stroke"
          />
        ))}
        <path class="follows" d={followed.map((e) => e.d).join('')} vector-effect="non-scaling-stroke" />
      </svg>
    );
  return (
    <svg
      class="part"
      viewBox={box}
      role="img"
      aria-label={text.drawing.partPicture(part.id, part.curves.length - 1, followed.length)}
    >
      {part.curves.map((c) => (
        <path key={c.id} d={c.d} class={c.kind} vector-effect="non-scaling-stroke">
          <title>{`${c.id}: ${c.says}`}</title>
        </path>
      ))}
      {followed.map((e) => (
        <path key={e.id} d={e.d} class="follows" vector-effect="non-scaling-stroke" />
      ))}
      {part.edges
        .filter((e) => e.id === edge)
        .map((e) => (
          <path key={`chosen ${e.id}`} d={e.d} class="chosen" vector-effect="non-scaling-stroke" />
        ))}
      {onEdge
        ? part.edges.map((e) => (
            // biome-ignore lint/a11y/noStaticElementInteractions: the list beside it does the same by keyboard
            <path
              key={`hit ${e.id}`}
              d={e.d}
              class="hit"
              vector-effect="non-scaling-stroke"
              onClick={() => onEdge(e.id)}
            >
              <title>{e.id}</title>
            </path>
          ))
        : null}
    </svg>
  );
}
