import type { Diagnostic } from '@haunch/model';
import { text } from '../text/catalogue.js';

const placeOf = ({ locus }: Diagnostic): string =>
  [
    locus.board && text.place.board(locus.board),
    locus.part && text.place.part(locus.part),
    locus.joint && text.place.joint(locus.joint),
    locus.line !== undefined &&
      (locus.file ? text.place.line(locus.file, locus.line) : text.place.justLine(locus.line)),
  ]
    .filter(Boolean)
    .join(', ');

/** A message as a sentence, so that the hint that follows it begins another. */
const sentence = (message: string): string => (/[.?!]$/.test(message) ? message : `${message}.`);

/** So many are shown at once. */
const SHOWN = 12;

/** What the packages say, the gravest first, each with its place and its hint. */
export function Sayings({ of }: { readonly of: readonly Diagnostic[] }) {
  const ranks = { error: 0, warning: 1, note: 2 };
  const sorted = [...of].sort((a, b) => ranks[a.level] - ranks[b.level]);
  const item = (d: Diagnostic, i: number) => (
    <li key={i} class={d.level}>
      <strong>{text.levels[d.level]}</strong>
      {placeOf(d) ? ` · ${placeOf(d)}` : ''}
      {`: ${sentence(d.message)} `}
      <span class="soft">{d.hint}</span>
    </li>
  );
  if (sorted.length === 0) return null;
  return (
    <>
      <ul class="sayings">{sorted.slice(0, SHOWN).map(item)}</ul>
      {sorted.length > SHOWN ? (
        <details>
          <summary>{text.shell.more(sorted.length - SHOWN)}</summary>
          <ul class="sayings">{sorted.slice(SHOWN).map(item)}</ul>
        </details>
      ) : null}
    </>
  );
}
