import { useState } from 'preact/hooks';
import type { Desk } from '../../job/desk.js';
import { type DisplayUnit, formatLength } from '../../job/display-unit.js';
import { type JobText, type PieceText, withPiece } from '../../job/job-document.js';
import { text } from '../../text/catalogue.js';
import { Entry } from '../../ui/entry.js';
import { Facts } from '../../ui/facts.js';
import { Sayings } from '../../ui/sayings.js';
import type { OpenJob } from '../screen.js';
import { DrawingReading, DrawnFor } from './drawing-reading.js';
import { Parts } from './parts.js';
import { Questions } from './questions.js';
import { SvgPicture } from './svg-picture.js';
import { useDescribed } from './use-described.js';

const words = text.drawing;

/** One piece of the job: what was read, what can be said about it, and its parts. */
export function PieceCard(props: {
  readonly index: number;
  readonly job: OpenJob;
  readonly unit: DisplayUnit;
  readonly desk: Desk;
}) {
  const { index, job, unit, desk } = props;
  const piece = job.text.pieces[index]!;
  const reply = useDescribed(job, index, desk);
  const described = reply?.ok ? reply.value : null;
  const [chosen, choose] = useState<string | null>(null);
  const edit = (change: (p: PieceText) => PieceText, done: string) =>
    desk.edit(withPiece(job.document, index, change), done);
  const missing = job.document.sources[piece.source] === undefined;
  return (
    <>
      <Entry head={described?.read.title ?? piece.source} says={piece.source}>
        {missing ? (
          <p class="word-of bad">{words.missing(piece.source)}</p>
        ) : reply === null ? (
          <p>{words.reading}</p>
        ) : null}
        {reply ? <Sayings of={reply.diagnostics} /> : null}
        {described ? <Account described={described} unit={unit} /> : null}
        {described?.standing ? <SvgPicture svg={described.standing} says={words.standing} /> : null}
        <div class="row">
          <label>
            {words.count}{' '}
            <input
              type="number"
              min={1}
              max={500}
              value={piece.count ?? 1}
              onChange={(e) => {
                const count = Math.round(Number(e.currentTarget.value));
                if (count >= 1 && count <= 500)
                  edit((p) => ({ ...p, count }), words.done.count(piece.source));
              }}
            />
          </label>
          {job.text.pieces.length > 1 ? (
            <button
              type="button"
              onClick={() =>
                desk.editJob(
                  (j) => ({ ...j, pieces: j.pieces.filter((_, i) => i !== index) as JobText['pieces'] }),
                  words.done.removed(piece.source),
                )
              }
            >
              {words.remove(piece.source)}
            </button>
          ) : null}
        </div>
      </Entry>
      {described ? (
        <Parts
          index={index}
          job={job}
          described={described}
          unit={unit}
          desk={desk}
          chosen={chosen}
          onChoose={choose}
        />
      ) : null}
      {described?.kind === 'drawing' ? (
        <DrawnFor described={described} piece={piece} unit={unit} onEdit={edit} />
      ) : null}
      {described && (described.kind === 'drawing' || described.found) ? (
        <Questions index={index} job={job} described={described} desk={desk} />
      ) : null}
      {described?.kind === 'drawing' ? (
        <DrawingReading described={described} piece={piece} unit={unit} onEdit={edit} />
      ) : null}
    </>
  );
}

/** What was read, in a few figures. */
function Account(props: {
  readonly described: NonNullable<Extract<ReturnType<typeof useDescribed>, { ok: true }>>['value'];
  readonly unit: DisplayUnit;
}) {
  const { read } = props.described;
  const facts: readonly (readonly [string, string])[] = [
    [words.facts.parts, String(read.parts.length)],
    [
      words.facts.thickness,
      read.thickness.value === null ? words.notStated : formatLength(read.thickness.value, props.unit, 1),
    ],
    [words.facts.unit, read.units.name],
    ...(read.mates.length > 0 ? [[words.facts.mates, String(read.mates.length)] as const] : []),
    ...(read.repairs.length > 0 ? [[words.facts.repairs, String(read.repairs.length)] as const] : []),
  ];
  return <Facts facts={facts} />;
}
