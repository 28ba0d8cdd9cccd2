import { jointAddress, lineAddress } from '../../job/address.js';
import { type DisplayUnit, figureOf, formatLength } from '../../job/display-unit.js';
import { text } from '../../text/catalogue.js';
import { Entry } from '../../ui/entry.js';
import type { MadeResult } from '../../work/wire.js';

const words = text.proof;
type Board = MadeResult['report']['boards'][number];
type Rule = Board['rules'][number];
type Finding = Rule['findings'][number];

/** So many findings of a rule are shown. */
const SHOWN = 10;

const tones = { pass: 'good', fail: 'bad', 'not judged': 'look' } as const;

const marginOf = ({ margin, unit: of }: Rule, unit: DisplayUnit): string | null =>
  margin === null
    ? null
    : words.margin(of === 'mm' ? formatLength(margin, unit) : `${+margin.toFixed(2)} ${of}`.trim());

function FindingItem(props: {
  readonly finding: Finding;
  readonly file: string | undefined;
  readonly unit: DisplayUnit;
}) {
  const { finding: f, unit } = props;
  const file = f.program ?? props.file;
  const places = [
    f.part && text.place.part(f.part),
    f.feature && words.feature(f.feature),
    f.at && words.at(figureOf(f.at.x, unit, 1), formatLength(f.at.y, unit, 1)),
    f.joint &&
      (f.jointDistance
        ? words.nearJoint(f.joint, formatLength(f.jointDistance, unit, 1))
        : words.onJoint(f.joint)),
  ].filter(Boolean);
  return (
    <li>
      {f.message}
      {places.length > 0 ? <span class="soft"> {places.join(', ')}</span> : null}
      {f.line !== undefined || f.joint ? (
        <span class="row">
          {f.line === undefined ? null : file ? (
            <a class="button" href={lineAddress(file, f.line)}>
              {words.goToLine(f.line)}
            </a>
          ) : (
            words.goToLine(f.line)
          )}
          {f.joint ? (
            <a class="button" href={jointAddress(f.joint)}>
              {text.place.joint(f.joint)}
            </a>
          ) : null}
        </span>
      ) : null}
    </li>
  );
}

/** Every rule on one board: its number, its words, its verdict, how far it is from failing, what it found. */
export function BoardRules({ board, unit }: { readonly board: Board; readonly unit: DisplayUnit }) {
  const count = (v: Rule['verdict']): number => board.rules.filter((r) => r.verdict === v).length;
  const ranks = { fail: 0, 'not judged': 2, pass: 1 };
  const rules = [...board.rules].sort(
    (a, b) => ranks[a.verdict] - ranks[b.verdict] || (a.rule < b.rule ? -1 : 1),
  );
  const file = board.programs.length === 1 ? board.programs[0]!.file.split('/').at(-1) : undefined;
  return (
    <Entry
      head={`${words.rules}: ${board.id}`}
      says={`${words.rulesSays(board.id)}: ${words.counted(count('pass'), count('fail'), count('not judged'))}.`}
    >
      <ul class="proof-rules">
        {rules.map((r) => (
          <li key={r.rule} class={r.verdict.replace(' ', '-')}>
            <span class="number">{r.rule}</span>
            <span class="title">{r.title}</span>
            <span class="soft">{marginOf(r, unit)}</span>
            <span class={`word-of ${tones[r.verdict]}`}>
              <span aria-hidden="true">{words.ruleMarks[r.verdict]} </span>
              {words.ruleVerdicts[r.verdict]}
            </span>
            {r.findings.length > 0 ? (
              <details open={r.verdict === 'fail'}>
                <summary>{words.findings(r.findings.length)}</summary>
                <ul class="sayings">
                  {r.findings.slice(0, SHOWN).map((f, i) => (
                    <FindingItem key={i} finding={f} file={file} unit={unit} />
                  ))}
                </ul>
                {r.findings.length > SHOWN ? (
                  <p class="soft">{words.moreFindings(r.findings.length - SHOWN)}</p>
                ) : null}
              </details>
            ) : null}
          </li>
        ))}
      </ul>
    </Entry>
  );
}
