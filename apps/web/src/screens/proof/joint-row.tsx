import { assemblyAddress, lineAddress } from '../../job/address.js';
import { type DisplayUnit, figureOf, formatLength } from '../../job/display-unit.js';
import { text } from '../../text/catalogue.js';
import type { ShownJoints } from '../../work/shown-wire.js';
import type { MadeResult } from '../../work/wire.js';
import { ClearanceStrip } from './clearance-strip.js';
import { JointPlace } from './joint-place.js';
import { lineRuns } from './line-runs.js';

const words = text.proof;
type Report = MadeResult['report'];
type Joint = Report['joints'][number];
type Fit = Joint['fits'][number];

/** So many stretches of lines are shown of a fit. */
const RUNS = 6;

const tone = (verdict: Joint['verdict']): string =>
  verdict === 'as wanted' ? 'good' : verdict === 'unknown' ? 'look' : 'bad';

/** A verdict in its sign and its word. */
export const Verdict = ({ of }: { readonly of: Joint['verdict'] }) => (
  <span class={`word-of ${tone(of)}`}>
    <span aria-hidden="true">{words.verdictMarks[of]} </span>
    {text.verdicts[of]}
  </span>
);

/** The name of the file of the only program of a part's board; none where there are several. */
function onlyProgram(report: Report, part: string): string | undefined {
  const board = report.parts.find((p) => p.id === part)?.board;
  const programs = report.boards.find((b) => b.id === board)?.programs ?? [];
  return programs.length === 1 ? programs[0]!.file.split('/').at(-1) : undefined;
}

function FitFacts(props: { readonly fit: Fit; readonly report: Report; readonly unit: DisplayUnit }) {
  const { fit, unit, report } = props;
  const mm = (v: number): string => formatLength(v, unit);
  const range = ({ least, most }: { least: number; most: number }): [string, string] => [
    figureOf(least, unit),
    mm(most),
  ];
  const facts = [
    fit.width !== null && words.width(mm(fit.width)),
    fit.plate && words.plate(mm(fit.plate.thickness), words.plateFrom[fit.plate.from]),
    fit.tenon && words.tenon(...range(fit.tenon)),
    fit.depth && words.depth(...range(fit.depth)),
    fit.standing > 0.001 && words.standing(mm(fit.standing)),
    fit.basis === 'partner as drawn' && words.partnerAsDrawn,
  ].filter((f): f is string => typeof f === 'string');
  const runs = lineRuns(fit.lines, fit.programs);
  const only = onlyProgram(report, fit.slotPart);
  return (
    <li class="proof-fit">
      <p>
        <strong>{words.kinds[fit.kind]}</strong> · <Verdict of={fit.verdict} />
      </p>
      <p>
        {words.wanted(mm(fit.wanted))};{' '}
        {fit.least === null || fit.most === null
          ? words.notMeasured
          : words.asCut(mm(fit.least), mm(fit.most))}
        {facts.length > 0 ? ` (${facts.join('; ')})` : ''}
      </p>
      {fit.least === null || fit.most === null ? null : (
        <ClearanceStrip wanted={fit.wanted} least={fit.least} most={fit.most} unit={unit} />
      )}
      {runs.length === 0 ? null : (
        <p class="row">
          <span class="soft">{words.lines}</span>
          {runs.slice(0, RUNS).map((r) => {
            const file = r.program ?? only;
            const said = words.line(r.program ?? '', r.from, r.to);
            return file === undefined ? (
              <span key={said}>{said}</span>
            ) : (
              <a key={said} class="button" href={lineAddress(file, r.from)}>
                {said}
              </a>
            );
          })}
          {runs.length > RUNS ? <span class="soft">{words.moreLines(runs.length - RUNS)}</span> : null}
        </p>
      )}
    </li>
  );
}

/** One joint: its figures and its verdict; opened, its place, its fits and the lines that cut it. */
export function JointRow(props: {
  readonly joint: Joint;
  readonly report: Report;
  readonly shown: ShownJoints | null | undefined;
  readonly unit: DisplayUnit;
  readonly open: boolean;
  readonly onOpen: (open: boolean) => void;
}) {
  const { joint, unit, open, report } = props;
  const worst = joint.fits.find((f) => f.verdict === joint.verdict && f.least !== null);
  const mm = (v: number | null): string | null => (v === null ? null : formatLength(v, unit));
  const figure = joint.wanted === null ? null : figureOf(joint.wanted, unit);
  const least = mm(joint.clearance);
  return (
    <li id={`joint-${joint.joint}`} class="proof-joint">
      <button type="button" class="joint-head" aria-expanded={open} onClick={() => props.onOpen(!open)}>
        <span class="name">
          <span aria-hidden="true">{open ? '▾ ' : '▸ '}</span>
          {joint.joint}
        </span>
        <span class="soft">
          {joint.type}: {words.into(joint.enteringPart, joint.slotPart)}
        </span>
        <span>
          {figure === null ? '' : `${words.wanted(figure)}, `}
          {least === null ? words.notMeasured : words.asCut(least, least)}
        </span>
        <Verdict of={joint.verdict} />
      </button>
      {open ? (
        <div class="stack joint-body">
          {props.shown ? <JointPlace shown={props.shown} joint={joint.joint} /> : null}
          <a class="button" href={assemblyAddress(joint.joint)}>
            {words.inAssembly}
          </a>
          <h3>{words.fits}</h3>
          <ul class="stack">
            {[...joint.fits]
              .sort((a, b) => Number(b === worst) - Number(a === worst))
              .map((f) => (
                <FitFacts key={f.fit} fit={f} report={report} unit={unit} />
              ))}
          </ul>
        </div>
      ) : null}
    </li>
  );
}
