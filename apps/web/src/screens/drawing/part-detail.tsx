import { useState } from 'preact/hooks';
import type { Desk } from '../../job/desk.js';
import { type DisplayUnit, formatLength } from '../../job/display-unit.js';
import { withJob } from '../../job/job-document.js';
import { text } from '../../text/catalogue.js';
import { Sayings } from '../../ui/sayings.js';
import type { DescribedSource, DrawnPart, FollowingEdge } from '../../work/drawing-wire.js';
import type { Reply } from '../../work/wire.js';
import type { OpenJob } from '../screen.js';
import { PartPicture } from './part-picture.js';

const words = text.drawing;
const SHARES = ['1', '-1', '0.5', '-0.5'] as const;

/** A part, large: touch an edge to see what it follows, and to say otherwise. */
export function PartDetail(props: {
  readonly index: number;
  readonly job: OpenJob;
  readonly described: DescribedSource;
  readonly unit: DisplayUnit;
  readonly desk: Desk;
  readonly part: DrawnPart;
}) {
  const { part, described } = props;
  const [chosen, choose] = useState<string | null>(null);
  const edge = part.edges.find((e) => e.id === chosen) ?? null;
  const features = described.read.features.filter((f) => f.part === part.id && f.kind !== 'edges on marks');
  return (
    <div class="stack">
      <h3>
        {part.id} {part.name === part.id ? '' : part.name}
      </h3>
      <figure class="picture">
        <PartPicture part={part} edge={chosen} onEdge={choose} />
        <figcaption>{words.partCaption}</figcaption>
      </figure>
      {part.edges.length > 0 ? (
        <label>
          {words.edge}{' '}
          <select value={chosen ?? ''} onChange={(e) => choose(e.currentTarget.value || null)}>
            <option value="">{words.noEdge}</option>
            {part.edges.map((e) => (
              <option key={e.id} value={e.id}>
                {`${e.id}: ${followsWords(e)}`}
              </option>
            ))}
          </select>
        </label>
      ) : (
        <p class="soft">{described.kind === 'drawing' ? words.bareDrawing : words.nothingFollows}</p>
      )}
      {edge ? <EdgeWords {...props} edge={edge} /> : null}
      {features.length > 0 ? (
        <details>
          <summary>{words.features(features.length)}</summary>
          <ul class="stack">
            {features.map((f) => (
              <li key={f.id}>
                <strong>{f.id}</strong> {f.kind}, {f.says}
              </li>
            ))}
          </ul>
        </details>
      ) : null}
      {part.thickness === null ? null : (
        <p class="soft small">{words.drawnFor(formatLength(part.thickness, props.unit, 1))}</p>
      )}
    </div>
  );
}

/** What an edge follows, in words. */
function followsWords(e: FollowingEdge): string {
  const terms = Object.entries(e.follows).filter(([, share]) => share !== 0);
  if (terms.length === 0) return words.staysPut;
  return terms.map(([plate, share]) => words.share(plate, share)).join(', ');
}

/** What is known of an edge; of a master that was found here, it can be said otherwise. */
function EdgeWords(props: {
  readonly index: number;
  readonly job: OpenJob;
  readonly described: DescribedSource;
  readonly desk: Desk;
  readonly edge: FollowingEdge;
}) {
  const { index, job, described, desk, edge } = props;
  const [plate, setPlate] = useState('');
  const [share, setShare] = useState<(typeof SHARES)[number]>('1');
  const [reply, set] = useState<Reply<unknown> | null>(null);
  const say = async () => {
    const follows = { [edge.id]: plate === '' ? {} : { [plate]: Number(share) } };
    const found = await desk.long('find', (s, document) =>
      s.findMaster(document, index, { answers: {}, follows }),
    );
    if (found === null) return;
    set(found);
    if (found.ok && found.value.text !== null)
      desk.edit(
        withJob(job.document, (j) => j, {
          ...job.document.sources,
          [described.name]: new Blob([found.value.text]),
        }),
        words.done.follows(edge.id),
      );
  };
  return (
    <div class="stack">
      <p>
        <strong>{edge.id}</strong>: {followsWords(edge)}
        {edge.reason === null ? '' : ` (${words.reasons[edge.reason] ?? edge.reason})`}
      </p>
      {described.found ? (
        <div class="row low">
          <label>
            {words.follow}
            <br />
            <select value={plate} onChange={(e) => setPlate(e.currentTarget.value)}>
              <option value="">{words.nothing}</option>
              {described.parts.map((p) => (
                <option key={p.id} value={p.id}>
                  {words.thicknessOf(p.id)}
                </option>
              ))}
            </select>
          </label>
          {plate === '' ? null : (
            <label>
              {words.by}
              <br />
              <select
                value={share}
                onChange={(e) => setShare(e.currentTarget.value as (typeof SHARES)[number])}
              >
                {SHARES.map((s) => (
                  <option key={s} value={s}>
                    {words.shares[s]}
                  </option>
                ))}
              </select>
            </label>
          )}
          <button type="button" onClick={() => void say()}>
            {words.sayFollow}
          </button>
        </div>
      ) : (
        <p class="soft small">{words.authored}</p>
      )}
      {reply && !reply.ok ? <Sayings of={reply.diagnostics} /> : null}
    </div>
  );
}
