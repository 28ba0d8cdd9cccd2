import { type Diagnostic, gatherDiagnostics, shortPlace } from '@haunch/model';
import { sentenceIn } from '../job/display-unit.js';
import { text } from '../text/catalogue.js';
import { useKnown } from './use-page.js';

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

/** So many kinds are shown at once. */
const SHOWN = 12;
const RANKS = { error: 0, warning: 1, note: 2 };

/** What the packages say, the gravest first, each with its place and its hint; of many of one kind the first, and where the others are. */
export function Sayings({ of }: { readonly of: readonly Diagnostic[] }) {
  const unit = useKnown((s) => s.settings.unit);
  const kinds = gatherDiagnostics([...of].sort((a, b) => RANKS[a.level] - RANKS[b.level]));
  if (kinds.length === 0) return null;
  const list = (some: typeof kinds) => (
    <ul class="sayings">
      {some.flatMap(({ shown, rest }, k) => [
        ...shown.map((d, i) => (
          <li key={`${k} ${i}`} class={d.level}>
            <strong>{text.levels[d.level]}</strong>
            {placeOf(d) ? ` · ${placeOf(d)}` : ''}
            {`: ${sentence(sentenceIn(d.message, unit))} `}
            {d.hint ? <span class="soft">{sentenceIn(d.hint, unit)}</span> : null}
          </li>
        )),
        ...(rest.length > 0
          ? [
              <li key={`${k} rest`} class={rest[0]!.level}>
                {text.shell.alike(rest.length, [...new Set(rest.map(shortPlace))].filter(Boolean))}
              </li>,
            ]
          : []),
      ])}
    </ul>
  );
  return (
    <>
      {list(kinds.slice(0, SHOWN))}
      {kinds.length > SHOWN ? (
        <details>
          <summary>{text.shell.more(kinds.length - SHOWN)}</summary>
          {list(kinds.slice(SHOWN))}
        </details>
      ) : null}
    </>
  );
}
