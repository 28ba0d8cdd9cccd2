import { type DisplayUnit, figureOf, sentenceIn } from '../../job/display-unit.js';
import { text } from '../../text/catalogue.js';
import { WideTable } from '../../ui/wide-table.js';
import type { MadeResult } from '../../work/wire.js';

const words = text.fit;
/** A joint is worth naming from this chance on. */
const NAMED = 0.05;

/** What to expect at the bench: how many joints will want sanding, which, and what would help most. */
export function Forecast(props: {
  readonly result: MadeResult;
  readonly fresh: boolean;
  readonly unit: DisplayUnit;
}) {
  const { forecast, joints } = props.result.report;
  const likely = forecast.joints
    .filter((j) => j.tight >= NAMED || j.slack >= NAMED)
    .sort((a, b) => b.tight - a.tight || b.slack - a.slack);
  const cut = new Map(joints.map((j) => [j.joint, j]));
  const share = (p: number): string => `${Math.round(p * 100)} %`;
  return (
    <>
      {props.fresh ? null : <p class="word-of look">{text.result.stale}</p>}
      <dl class="facts">
        <div>
          <dt>{words.toSand}</dt>
          <dd class="figure">{words.ofJoints(forecast.jointsTight.toFixed(1), joints.length)}</dd>
        </div>
        <div>
          <dt>{words.between}</dt>
          <dd class="figure">
            {forecast.jointsTightRange[0]} … {forecast.jointsTightRange[2]}
          </dd>
        </div>
        <div>
          <dt>{words.allWanted}</dt>
          <dd class="figure">{share(forecast.allWanted)}</dd>
        </div>
      </dl>
      {likely.length > 0 ? (
        <WideTable label={words.forecast}>
          <thead>
            <tr>
              <th scope="col">{words.joint}</th>
              <th scope="col" class="n">
                {words.asCut} ({props.unit})
              </th>
              <th scope="col" class="n">
                {text.verdicts.tight}
              </th>
              <th scope="col" class="n">
                {text.verdicts['as wanted']}
              </th>
              <th scope="col" class="n">
                {text.verdicts.slack}
              </th>
            </tr>
          </thead>
          <tbody>
            {likely.slice(0, 30).map((j) => {
              const clearance = cut.get(j.joint)?.clearance ?? null;
              return (
                <tr key={j.joint}>
                  <th scope="row">{j.joint}</th>
                  <td class="n">{clearance === null ? '–' : figureOf(clearance, props.unit, 3)}</td>
                  <td class="n">{share(j.tight)}</td>
                  <td class="n">{share(j.wanted)}</td>
                  <td class="n">{share(j.slack)}</td>
                </tr>
              );
            })}
          </tbody>
        </WideTable>
      ) : (
        <p>{words.noneLikely}</p>
      )}
      {forecast.remedies.length > 0 ? (
        <>
          <h3>{words.remedies}</h3>
          <ul class="stack">
            {forecast.remedies.slice(0, 4).map((r) => (
              <li key={r.what}>{words.remedy(sentenceIn(r.what, props.unit), r.saved.toFixed(1))}</li>
            ))}
          </ul>
        </>
      ) : null}
    </>
  );
}
