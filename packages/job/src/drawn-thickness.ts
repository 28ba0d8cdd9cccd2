import type { Drawing } from '@haunch/drawing';
import { findThickness, type Saying, type ThicknessFinding } from '@haunch/joinery';
import type { Part } from '@haunch/model';

/** What the texts and layers of a drawing say, layers that its table does not list among them. */
export const sayingsOf = (drawing: Drawing): Saying[] => [
  ...drawing.entities.flatMap((e) =>
    e.kind === 'text' ? [{ text: e.text, from: `the text at line ${e.line}` }] : [],
  ),
  ...[...new Set([...drawing.layers.map((l) => l.name), ...drawing.entities.map((e) => e.layer)])].map(
    (name) => ({ text: name, from: `layer '${name}'` }),
  ),
];

/** What a drawing says of its sheets. mm */
export interface DrawnThickness {
  /** What its entities state; null where they state none or several. */
  readonly value: number | null;
  /** Plain sentences for people. */
  readonly reasons: readonly string[];
  readonly candidates: ThicknessFinding['candidates'];
}

/** So many texts and layers are quoted. */
const QUOTED = 4;
const figure = (v: number): string => String(Number(v.toFixed(3)));

/**
 * The thickness that a drawing states by the thickness of its entities, and what else speaks for one: widths of slots,
 * lettering, names of layers. Only the first is taken as a fact; the rest is for a person to confirm.
 */
export function drawnThickness(drawing: Drawing, parts: readonly Part[]): DrawnThickness {
  const {
    candidates,
    stated,
    verdict,
    value: likeliest,
  } = findThickness(parts, { said: sayingsOf(drawing) });
  const own = [...new Set(parts.flatMap((p) => (p.thickness === null ? [] : [p.thickness])))].sort(
    (a, b) => a - b,
  );
  const [first, second] = candidates;
  return {
    value: own.length === 1 ? own[0]! : null,
    reasons: [
      own.length > 0
        ? `the drawing states ${own.join(', ')} mm (thickness of its entities)`
        : 'no entity states it',
      ...stated.slice(0, QUOTED).map((s) => `${s.from} states ${figure(s.value)} mm`),
      ...(stated.length > QUOTED ? [`${stated.length - QUOTED} more texts or layers state a thickness`] : []),
      ...(own.length > 0
        ? []
        : likeliest === null
          ? ['nothing in the drawing slots into anything']
          : verdict === 'several'
            ? [
                `${figure(first!.value)} mm and ${figure(second!.value)} mm are about as likely: say which it was drawn for`,
              ]
            : [`${figure(likeliest)} mm is the likeliest: confirm it before relying on it`]),
    ],
    candidates,
  };
}
