import { useEffect, useState } from 'preact/hooks';
import type { Desk } from '../../job/desk.js';
import { jobOf, withJob } from '../../job/job-document.js';
import { text } from '../../text/catalogue.js';
import { Entry } from '../../ui/entry.js';
import { Sayings } from '../../ui/sayings.js';
import type { DescribedSource, DrawnQuestion, FoundSource } from '../../work/drawing-wire.js';
import type { Reply } from '../../work/wire.js';
import type { OpenJob } from '../screen.js';
import { SvgPicture } from './svg-picture.js';

const words = text.drawing;

const base = (name: string): string => name.replace(/(?:\.master)?\.[^.]*$/, '');
/** Answers lie beside the job as the command line reads them. */
const answersFile = (name: string): string => `${base(name)}.answers.json`;

type Answers = Readonly<Record<string, number>>;

async function answersOf(job: OpenJob, name: string): Promise<Answers> {
  const kept = await job.document.sources[answersFile(name)]?.text();
  try {
    return kept === undefined ? {} : (JSON.parse(kept) as Answers);
  } catch {
    return {};
  }
}

/** What goes into what: found on request, with the questions that flat parts leave open, each choice with its picture. */
export function Questions(props: {
  readonly index: number;
  readonly job: OpenJob;
  readonly described: DescribedSource;
  readonly desk: Desk;
}) {
  const { index, job, described, desk } = props;
  const [reply, set] = useState<Reply<FoundSource> | null>(null);
  const { name } = described;
  const isDrawing = described.kind === 'drawing';
  useEffect(() => set(null), [name]);

  const find = async (more: Answers): Promise<void> => {
    const answers = { ...(await answersOf(job, name)), ...more };
    const found = await desk.long('find', (s, document) =>
      s.findMaster(document, index, { answers, follows: {} }),
    );
    if (found === null) return;
    set(found);
    const { document } = job;
    if (!found.ok) return;
    if (found.value.text === null) {
      if (Object.keys(more).length > 0)
        desk.edit(
          withJob(document, (j) => j, {
            ...document.sources,
            [answersFile(name)]: new Blob([`${JSON.stringify(answers, null, 1)}\n`]),
          }),
          words.done.answered(Object.keys(more).join(', ')),
        );
      return;
    }
    const master = isDrawing ? `${base(name)}.master.json` : name;
    desk.edit(
      withJob(
        document,
        (j) => ({
          ...j,
          pieces: j.pieces.map((p, i) =>
            i === index ? { source: master, ...(p.count === undefined ? {} : { count: p.count }) } : p,
          ) as typeof j.pieces,
          boards: isDrawing ? boardsFor(jobOf(document), found.value.text!) : j.boards,
        }),
        { ...document.sources, [master]: new Blob([found.value.text]) },
      ),
      isDrawing ? words.done.found : words.done.answered(Object.keys(more).join(', ')),
    );
  };

  const questions = reply?.ok ? reply.value.questions : [];
  const open = questions.filter((q) => q.taken === null);
  const taken = questions.filter((q) => q.taken !== null);
  return (
    <Entry
      head={words.together}
      says={isDrawing ? words.togetherSays : words.foundSays(described.found!.from)}
    >
      <button type="button" class={isDrawing ? 'main' : undefined} onClick={() => void find({})}>
        {isDrawing ? words.find : words.askAgain}
      </button>
      {reply && !reply.ok ? <Sayings of={reply.diagnostics} /> : null}
      {open.map((q) => (
        <Question key={q.id} question={q} onAnswer={(n) => void find({ [q.id]: n })} />
      ))}
      {taken.length > 0 ? (
        <details open={open.length === 0}>
          <summary>{words.taken(taken.length)}</summary>
          {taken.map((q) => (
            <Question key={q.id} question={q} onAnswer={(n) => void find({ [q.id]: n })} />
          ))}
        </details>
      ) : null}
    </Entry>
  );
}

/** The stocks of a master's parts get boards of their names, where the boards are still those of a new job. */
function boardsFor(job: ReturnType<typeof jobOf>, master: string): ReturnType<typeof jobOf>['boards'] {
  const stocks = new Set((JSON.parse(master) as { parts: { stock: string }[] }).parts.map((p) => p.stock));
  const [first, ...more] = job.boards;
  const named = first?.stock ?? first?.id;
  const [stock] = stocks;
  return first && stocks.size === 1 && more.length === 0 && named !== stock
    ? [{ ...first, stock: stock! }]
    : job.boards;
}

function Question(props: { readonly question: DrawnQuestion; readonly onAnswer: (n: number) => void }) {
  const { question: q } = props;
  return (
    <div class="stack">
      <h3>{q.text}</h3>
      <ol class={q.pictures.some(Boolean) ? 'choices pictured' : 'choices'}>
        {q.choices.map((c, k) => (
          <li key={c}>
            <button type="button" aria-pressed={q.taken === k + 1} onClick={() => props.onAnswer(k + 1)}>
              {q.pictures[k] ? <SvgPicture svg={q.pictures[k]} says={c} /> : null}
              <span class={q.pictures[k] ? 'soft small' : undefined}>
                <strong>{k + 1}.</strong> {c}
                {q.taken === k + 1 ? ` (${words.nowSo})` : ''}
              </span>
            </button>
          </li>
        ))}
      </ol>
    </div>
  );
}
