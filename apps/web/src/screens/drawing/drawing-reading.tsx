import { useState } from 'preact/hooks';
import { type DisplayUnit, figureOf, formatLength } from '../../job/display-unit.js';
import type { PieceText } from '../../job/job-document.js';
import { mmOf } from '../../job/written-length.js';
import { text } from '../../text/catalogue.js';
import { Choice } from '../../ui/choice.js';
import { Entry } from '../../ui/entry.js';
import { LengthField } from '../../ui/length-field.js';
import type { DescribedSource } from '../../work/drawing-wire.js';

const words = text.drawing;
const UNITS = ['mm', 'cm', 'm', 'inch'] as const;
const RULES = ['', 'cut', 'pocket', 'hole', 'engrave', 'leave out'] as const;
type RuleName = (typeof RULES)[number];
type Rule = NonNullable<PieceText['layers']>[string];

/** What is said of one drawing. */
interface ReadingProps {
  readonly described: DescribedSource;
  readonly piece: PieceText;
  readonly unit: DisplayUnit;
  readonly onEdit: (change: (p: PieceText) => PieceText, done: string) => void;
}

/** The thickness that a drawing was made for, with the likely ones to choose from. */
export function DrawnFor({ described: { read }, piece, unit, onEdit }: ReadingProps) {
  const { done } = words;
  return (
    <Entry head={words.drawnThickness} says={read.thickness.reasons.join('; ')}>
      {read.thickness.candidates.length > 0 ? (
        <div class="row">
          <span>{words.likely}</span>
          {read.thickness.candidates.slice(0, 4).map((c) => (
            <button
              type="button"
              key={c.value}
              aria-pressed={piece.thickness !== undefined && mmOf(piece.thickness) === c.value}
              title={c.reasons.join('; ')}
              onClick={() => onEdit((p) => ({ ...p, thickness: `${c.value} mm` }), done.thickness)}
            >
              {formatLength(c.value, unit, 1)}
            </button>
          ))}
        </div>
      ) : null}
      <LengthField
        label={words.thickness}
        value={piece.thickness === undefined ? null : mmOf(piece.thickness)}
        unit={unit}
        places={1}
        least={0.1}
        optional
        onLength={(written) =>
          onEdit(
            ({ thickness: _, ...p }) => (written === null ? p : { ...p, thickness: written }),
            done.thickness,
          )
        }
      />
    </Entry>
  );
}

/** How a drawing is read, and what can be said about it: unit, layers, gaps, repairs. */
export function DrawingReading({ described, piece, unit, onEdit }: ReadingProps) {
  const { read } = described;
  const { done } = words;
  return (
    <>
      <Entry head={words.unitHead} says={read.units.reason}>
        <Choice
          label={words.unit}
          value={
            piece.unit ??
            (UNITS.find((u) => u === read.units.name) as (typeof UNITS)[number] | undefined) ??
            null
          }
          options={UNITS.map((value) => ({ value, label: value }))}
          onChoose={(u) => onEdit((p) => ({ ...p, unit: u }), done.unit)}
        />
        <p class="soft small">{words.unitCheck(firstSize(described, unit))}</p>
      </Entry>
      {read.layers.length > 0 ? (
        <Entry head={words.layers} says={words.layersSay}>
          <ul class="rules">
            {read.layers.map((l) => (
              <li key={l.name}>
                <LayerRow
                  name={l.name}
                  off={l.off}
                  rule={piece.layers?.[l.name] ?? null}
                  unit={unit}
                  onRule={(rule) =>
                    onEdit((p) => {
                      const { [l.name]: _, ...others } = p.layers ?? {};
                      return { ...p, layers: rule === null ? others : { ...others, [l.name]: rule } };
                    }, done.layer(l.name))
                  }
                />
              </li>
            ))}
          </ul>
          {read.layers.some((l) => l.off) ? (
            <button
              type="button"
              aria-pressed={piece.hiddenLayers ?? false}
              onClick={() => onEdit((p) => ({ ...p, hiddenLayers: !(p.hiddenLayers ?? false) }), done.hidden)}
            >
              {words.hidden}
            </button>
          ) : null}
        </Entry>
      ) : null}
      <Entry head={words.repairs} says={words.repairsSay}>
        <LengthField
          label={words.join}
          value={piece.joinWithin === undefined ? null : mmOf(piece.joinWithin)}
          unit={unit}
          least={0.001}
          optional
          onLength={(written) =>
            onEdit(
              ({ joinWithin: _, ...p }) => (written === null ? p : { ...p, joinWithin: written }),
              done.join,
            )
          }
        />
        <Repairs described={described} piece={piece} unit={unit} onEdit={onEdit} />
        {read.leftOut.length > 0 ? (
          <details>
            <summary>{words.leftOut(read.leftOut.length)}</summary>
            <ul class="stack">
              {read.leftOut.map((l, i) => (
                <li key={i}>{words.leftOutWhy(l.why, l.layer, l.lines.slice(0, 6).join(', '))}</li>
              ))}
            </ul>
          </details>
        ) : null}
      </Entry>
    </>
  );
}

const firstSize = ({ parts }: DescribedSource, unit: DisplayUnit): string => {
  const [p] = parts;
  return p ? `${p.id}: ${figureOf(p.width, unit, 1)} × ${formatLength(p.height, unit, 1)}` : '';
};

/** What one layer holds. */
function LayerRow(props: {
  readonly name: string;
  readonly off: boolean;
  readonly rule: Rule | null;
  readonly unit: DisplayUnit;
  readonly onRule: (rule: Rule | null) => void;
}) {
  const { rule, unit } = props;
  const [asked, ask] = useState<'pocket' | 'hole' | null>(null);
  const deep = rule?.as === 'pocket' || rule?.as === 'hole' ? rule : null;
  const as: RuleName = asked ?? rule?.as ?? '';
  return (
    <div class="row low">
      <label>
        {props.name}
        {props.off ? ` (${words.off})` : ''}
        <br />
        <select
          value={as}
          onChange={(e) => {
            const chosen = e.currentTarget.value as RuleName;
            if (chosen === 'pocket' || chosen === 'hole') return ask(chosen);
            ask(null);
            props.onRule(chosen === '' ? null : { as: chosen });
          }}
        >
          {RULES.map((r) => (
            <option key={r} value={r}>
              {words.rules[r]}
            </option>
          ))}
        </select>
      </label>
      {asked !== null || deep ? (
        <LengthField
          label={words.depth}
          value={deep ? mmOf(deep.depth) : null}
          unit={unit}
          least={0.01}
          onLength={(written) => {
            if (written !== null) props.onRule({ as: asked ?? deep!.as, depth: written });
            ask(null);
          }}
        />
      ) : null}
    </div>
  );
}

/** Repairs by kind, each kind and each repair to be left as it was drawn. */
function Repairs({ described, piece, unit, onEdit }: ReadingProps) {
  const keep = piece.keep ?? [];
  const toggle = (name: string) =>
    onEdit(
      (p) => ({
        ...p,
        keep: keep.includes(name) ? keep.filter((k) => k !== name) : [...keep, name],
      }),
      words.done.repair(name),
    );
  const kinds = new Map<string, (typeof described.read.repairs)[number][]>();
  for (const r of described.read.repairs) kinds.set(r.kind, [...(kinds.get(r.kind) ?? []), r]);
  if (kinds.size === 0 && keep.length === 0) return <p>{words.noRepairs}</p>;
  return (
    <ul class="stack">
      {[...kinds].map(([kind, repairs]) => (
        <li key={kind}>
          <details>
            <summary>{words.repairKind(repairs.length, words.kinds[kind] ?? kind)}</summary>
            <button type="button" onClick={() => toggle(kind)}>
              {words.leaveKind(repairs.length)}
            </button>
            <ul class="stack">
              {repairs.slice(0, 40).map((r) => (
                <li key={r.id} class="row">
                  <span>
                    {words.repairAt(
                      figureOf(r.x, unit, 1),
                      formatLength(r.y, unit, 1),
                      r.lines.slice(0, 4).join(', '),
                      formatLength(r.deviation, unit, 3),
                    )}
                  </span>
                  <button type="button" onClick={() => toggle(r.id)}>
                    {words.leave}
                  </button>
                </li>
              ))}
            </ul>
          </details>
        </li>
      ))}
      {keep.map((k) => (
        <li key={k} class="row">
          <span>{words.left(k)}</span>
          <button type="button" onClick={() => toggle(k)}>
            {words.repairAgain}
          </button>
        </li>
      ))}
    </ul>
  );
}
