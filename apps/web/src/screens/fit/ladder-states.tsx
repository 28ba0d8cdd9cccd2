import { useState } from 'preact/hooks';
import type { Desk } from '../../job/desk.js';
import { type DisplayUnit, figureOf, formatLength } from '../../job/display-unit.js';
import { text } from '../../text/catalogue.js';
import { WideTable } from '../../ui/wide-table.js';
import type { OpenJob } from '../screen.js';

const words = text.fit;

/** What is known from ladders, material by material; or why there is none. */
export function LadderStates(props: {
  readonly job: OpenJob;
  readonly unit: DisplayUnit;
  readonly desk: Desk;
}) {
  const { job, unit, desk } = props;
  const fit = job.view?.fit;
  if (!fit) return <NoLadder job={job} desk={desk} />;
  const felt = fit.ladders.flatMap((l) => (l.kind === 'felt' ? [l] : []));
  const without = fit.ladders.flatMap((l) => (l.kind === 'without' ? [l] : []));
  return (
    <>
      {felt.length > 0 ? (
        <WideTable label={words.felts}>
          <thead>
            <tr>
              <th scope="col">{words.material}</th>
              {(['drive', 'snug', 'slip'] as const).map((f) => (
                <th key={f} scope="col" class="n">
                  {words.families[f]}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {felt.map((l) => (
              <tr key={l.material}>
                <th scope="row">{words.ofBoard(l.material, l.board)}</th>
                <td class="n">{plusMinus(l.drive, l.driveU, unit)}</td>
                <td class="n">{plusMinus(l.snug, l.snugU, unit)}</td>
                <td class="n">{plusMinus(l.slip, l.slipU, unit)}</td>
              </tr>
            ))}
          </tbody>
        </WideTable>
      ) : null}
      {without.map((l) => (
        <p key={l.material ?? ''}>
          <span class="word-of look">{words.without(l.material)}</span> {l.reason}
        </p>
      ))}
    </>
  );
}

const plusMinus = (v: number, u: number, unit: DisplayUnit): string =>
  `${figureOf(v, unit, 3)} ± ${formatLength(u, unit, 3)}`;

/** Says why there is no ladder; the reason stands in the report. */
function NoLadder({ job, desk }: { readonly job: OpenJob; readonly desk: Desk }) {
  const [reason, type] = useState('');
  const needed = job.view?.diagnostics.some((d) => d.stage === 'job' && d.code === 'job/no-ladder') ?? false;
  if (!needed) return <p class="soft">{words.noFit}</p>;
  return (
    <form
      class="row low"
      onSubmit={(e) => {
        e.preventDefault();
        if (reason.trim().length >= 8)
          desk.editJob((j) => ({ ...j, ladder: { without: reason.trim() } }), words.done.without);
      }}
    >
      <label>
        {words.why}
        <br />
        <input
          type="text"
          size={36}
          minLength={8}
          required
          value={reason}
          onInput={(e) => type(e.currentTarget.value)}
        />
      </label>
      <button type="submit">{words.goWithout}</button>
    </form>
  );
}
