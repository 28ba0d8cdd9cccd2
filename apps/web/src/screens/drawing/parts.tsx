import type { Desk } from '../../job/desk.js';
import { type DisplayUnit, figureOf, formatLength } from '../../job/display-unit.js';
import { text } from '../../text/catalogue.js';
import { Entry } from '../../ui/entry.js';
import type { DescribedSource, DrawnPart } from '../../work/drawing-wire.js';
import type { OpenJob } from '../screen.js';
import { PartDetail } from './part-detail.js';
import { PartPicture } from './part-picture.js';

const words = text.drawing;

/** The parts of a piece, each a button; the chosen one large, with its edges. */
export function Parts(props: {
  readonly index: number;
  readonly job: OpenJob;
  readonly described: DescribedSource;
  readonly unit: DisplayUnit;
  readonly desk: Desk;
  readonly chosen: string | null;
  readonly onChoose: (part: string | null) => void;
}) {
  const { described, unit, chosen } = props;
  const part = described.parts.find((p) => p.id === chosen) ?? null;
  return (
    <Entry head={words.parts} says={words.partsSay} wide>
      <ul class="parts">
        {described.parts.map((p) => (
          <li key={p.id}>
            <button
              type="button"
              aria-pressed={p.id === chosen}
              onClick={() => props.onChoose(p.id === chosen ? null : p.id)}
            >
              <PartPicture part={p} small />
              <span>
                <strong>{p.id}</strong> {p.name === p.id ? '' : p.name}
              </span>
              <span class="soft small">{sizeOf(p, unit)}</span>
            </button>
          </li>
        ))}
      </ul>
      {part ? <PartDetail {...props} part={part} /> : null}
    </Entry>
  );
}

const sizeOf = (p: DrawnPart, unit: DisplayUnit): string =>
  `${figureOf(p.width, unit, 1)} × ${p.thickness === null ? formatLength(p.height, unit, 1) : `${figureOf(p.height, unit, 1)} × ${formatLength(p.thickness, unit, 1)}`}`;
