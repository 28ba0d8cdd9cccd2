import { text } from '../../text/catalogue.js';
import type { ShownFlat, ShownJoints } from '../../work/shown-wire.js';

const words = text.proof;
type Mark = ShownJoints['joints'][number]['marks'][number];

/** One part, flat, with the edges of a joint. All parts of a pair are drawn at one scale. */
function FlatPart(props: {
  readonly part: ShownFlat;
  readonly mark: Mark | undefined;
  readonly joint: string;
  readonly across: number;
}) {
  const { part, mark, across } = props;
  const u = across / 100;
  const box = mark && mark.d !== '' ? mark.box : null;
  const ring = box && {
    x: box[0] - 2.5 * u,
    y: box[1] - 2.5 * u,
    width: box[2] - box[0] + 5 * u,
    height: box[3] - box[1] + 5 * u,
  };
  return (
    <figure style={{ flex: `${part.width} 1 0` }}>
      <svg
        class="flat"
        viewBox={`${-4 * u} ${-4 * u} ${part.width + 8 * u} ${part.height + 8 * u}`}
        role="img"
        aria-label={words.pictureOf(part.id, props.joint)}
      >
        <path class="plate" d={part.outline} stroke-width={0.4 * u} />
        <path class="cut" d={part.cuts} stroke-width={0.4 * u} />
        {mark ? <path class="edges" d={mark.d} stroke-width={1.6 * u} /> : null}
        {ring ? (
          <rect
            class="ring"
            {...ring}
            rx={2 * u}
            stroke-width={0.6 * u}
            stroke-dasharray={`${2 * u} ${1.4 * u}`}
          />
        ) : null}
      </svg>
      <figcaption>{words.part(part.id, part.name, part.board)}</figcaption>
    </figure>
  );
}

/** The two parts of a joint side by side, with where they meet. */
export function JointPlace(props: { readonly shown: ShownJoints; readonly joint: string }) {
  const { shown, joint } = props;
  const found = shown.joints.find((j) => j.joint === joint);
  const parts = (found?.marks ?? []).flatMap((m) => shown.parts.find((p) => p.id === m.part) ?? []);
  if (!found || parts.length === 0) return null;
  const across = Math.max(...parts.flatMap((p) => [p.width, p.height]));
  return (
    <div class="stack">
      <div class="flats">
        {parts.map((p, i) => (
          <FlatPart key={p.id} part={p} mark={found.marks[i]} joint={joint} across={across} />
        ))}
      </div>
      <p class="soft small">{words.placeCaption}</p>
    </div>
  );
}
