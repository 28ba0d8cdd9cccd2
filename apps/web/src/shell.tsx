import { useEffect, useLayoutEffect, useMemo, useRef, useState } from 'preact/hooks';
import { jobOf } from './job/job-document.js';
import { SCREENS, type ScreenName, screenOf } from './job/screen-name.js';
import type { Busy, Notice } from './job/store.js';
import { AssemblyScreen } from './screens/assembly/assembly-screen.js';
import { BoardsScreen } from './screens/boards/boards-screen.js';
import { DrawingScreen } from './screens/drawing/drawing-screen.js';
import { Start } from './screens/drawing/start.js';
import { FitScreen } from './screens/fit/fit-screen.js';
import { LayoutScreen } from './screens/layout/layout-screen.js';
import { ProgramScreen } from './screens/program/program-screen.js';
import { ProofScreen } from './screens/proof/proof-screen.js';
import type { OpenJob, Screen } from './screens/screen.js';
import { stepStates } from './step-states.js';
import { text } from './text/catalogue.js';
import { Choice } from './ui/choice.js';
import { ChooseFiles } from './ui/choose-files.js';
import { useKnown, usePage } from './ui/use-page.js';

const SCREEN_OF: Readonly<Record<ScreenName, Screen>> = {
  drawing: DrawingScreen,
  boards: BoardsScreen,
  fit: FitScreen,
  layout: LayoutScreen,
  program: ProgramScreen,
  proof: ProofScreen,
  assembly: AssemblyScreen,
};

const MARK = { error: '✕', warning: '!', note: 'i' } as const;

function Notices() {
  const { store } = usePage();
  const notices = useKnown((s) => s.notices);
  return (
    <section aria-label={text.shell.notices} aria-live="polite">
      {notices.map((n: Notice) => (
        <div key={n.id} class={`notice ${n.level}`}>
          <span class="level" aria-hidden="true">
            {MARK[n.level]}
          </span>
          <div class="stack">
            <p>
              <strong>{text.levels[n.level]}:</strong> {n.text}
            </p>
            {n.hint ? <p class="soft">{n.hint}</p> : null}
            {n.action ? (
              <button type="button" onClick={n.action.do}>
                {n.action.label}
              </button>
            ) : null}
          </div>
          <button type="button" onClick={() => store.dismiss(n.id)}>
            {text.shell.dismiss}
          </button>
        </div>
      ))}
    </section>
  );
}

function Head() {
  const { desk } = usePage();
  const settings = useKnown((s) => s.settings);
  const document_ = useKnown((s) => s.history?.now.document ?? null);
  const title = document_ ? jobOf(document_).title : null;
  const [typed, type] = useState(title ?? '');
  useLayoutEffect(() => type(title ?? ''), [title]);
  const take = () => {
    if (title !== null && typed !== title) desk.editJob((job) => ({ ...job, title: typed }), text.done.title);
  };
  return (
    <header class="head">
      <div class="who">
        <p class="soft small">{text.shell.name}</p>
        {title === null ? (
          <p>{text.shell.noJob}</p>
        ) : (
          <input
            type="text"
            aria-label={text.shell.title}
            value={typed}
            onInput={(e) => type(e.currentTarget.value)}
            onBlur={take}
            onKeyDown={(e) => {
              if (e.key === 'Enter') take();
            }}
          />
        )}
      </div>
      <div class="row">
        <Choice
          label={text.shell.unit}
          value={settings.unit}
          options={[
            { value: 'mm', label: text.shell.mm },
            { value: 'inch', label: text.shell.inch },
          ]}
          onChoose={(unit) => desk.choose({ unit })}
        />
        <label>
          <span class="label">{text.shell.theme}</span>{' '}
          <select
            value={settings.theme}
            onChange={(e) => desk.choose({ theme: e.currentTarget.value as typeof settings.theme })}
          >
            {(['as the browser', 'light', 'dark'] as const).map((t) => (
              <option key={t} value={t}>
                {text.shell.themes[t]}
              </option>
            ))}
          </select>
        </label>
      </div>
    </header>
  );
}

function Steps({ screen }: { readonly screen: ScreenName }) {
  const history = useKnown((s) => s.history);
  const view = useKnown((s) => s.view);
  const result = useKnown((s) => s.result);
  const states = stepStates(history?.now.document ?? null, view, result);
  return (
    <nav aria-label={text.shell.steps}>
      <ol class="steps">
        {SCREENS.map((s, i) => (
          <li key={s}>
            <a href={`#${s}`} aria-current={s === screen ? 'step' : undefined}>
              <span class="word">
                {i + 1} {text.screens[s]}
              </span>
              <span class="state">{states[s]}</span>
            </a>
          </li>
        ))}
      </ol>
    </nav>
  );
}

/** What is being done, and for how long. */
function BusyWords({ busy }: { readonly busy: Busy }) {
  const [, tick] = useState(0);
  useEffect(() => {
    const timer = setInterval(() => tick((n) => n + 1), 1000);
    return () => clearInterval(timer);
  }, []);
  const { progress } = busy;
  const stage = progress ? (text.stages[progress.stage] ?? progress.stage) : null;
  const seconds = (performance.now() - busy.since) / 1000;
  return (
    <>
      <span aria-live="polite">
        {text.busy[busy.what]}
        {stage === null ? ' …' : `: ${stage}${progress?.board ? `, ${text.onBoard(progress.board)}` : ''} …`}
      </span>{' '}
      <span class="soft">{text.shell.since(seconds)}</span>
    </>
  );
}

function Bench() {
  const { desk } = usePage();
  const history = useKnown((s) => s.history);
  const busy = useKnown((s) => s.busy);
  const saving = useKnown((s) => s.saving);
  const result = useKnown((s) => s.result);
  const last = history && history.past.length > 0 ? history.now.done : null;
  const next = history?.future[0]?.done ?? null;
  if (!history && !busy) return null;
  const fresh = result?.document === history?.now.document.id;
  return (
    <section class="bench" aria-label={text.shell.now}>
      <div>
        {busy ? (
          <button type="button" class="main" onClick={() => desk.stop()}>
            {text.shell.stop}
          </button>
        ) : (
          <button type="button" class="main" onClick={() => void desk.make()}>
            {result && fresh ? text.shell.makeAgain : text.shell.make}
          </button>
        )}
        <div class="at">
          {busy ? (
            <BusyWords busy={busy} />
          ) : result ? (
            <span>
              {fresh ? (
                <strong class={result.pass ? 'word-of good' : 'word-of bad'}>
                  {result.pass ? `✓ ${text.shell.states.proved}` : `✕ ${text.shell.states.refused}`}
                </strong>
              ) : (
                <span class="word-of look">{text.shell.states.stale}</span>
              )}{' '}
              <span class="soft small">{text.shell.saving[saving]}</span>
            </span>
          ) : (
            <span class="soft small">{text.shell.saving[saving]}</span>
          )}
        </div>
        <button
          type="button"
          disabled={last === null}
          title={last === null ? text.shell.nothingToUndo : text.shell.undoWhat(last)}
          onClick={() => desk.undo()}
        >
          {text.shell.undo}
        </button>
        <button
          type="button"
          disabled={next === null}
          title={next === null ? text.shell.nothingToRedo : text.shell.redoWhat(next)}
          onClick={() => desk.redo()}
        >
          {text.shell.redo}
        </button>
      </div>
    </section>
  );
}

/** Paper that a proved job has. */
const PAPERS = ['setup.pdf', 'tickets.pdf', 'assembly.pdf', 'parts.pdf', 'unload.pdf', 'quote.pdf'] as const;

/** The job as files: out, in, and another one. */
function Foot() {
  const { desk } = usePage();
  const fresh = useKnown((s) => s.result !== null && s.result.document === s.history?.now.document.id);
  const proved = useKnown((s) => s.result?.pass === true) && fresh;
  return (
    <footer class="foot">
      {proved ? (
        <>
          <h2>{text.shell.paper}</h2>
          <div class="row">
            {PAPERS.map((p) => (
              <button type="button" key={p} onClick={() => void desk.downloadPaper(`paper/${p}`)}>
                {text.shell.papers[p]}
              </button>
            ))}
          </div>
        </>
      ) : null}
      <h2>{text.shell.job}</h2>
      <div class="row">
        <button type="button" onClick={() => void desk.downloadJob()}>
          {text.shell.downloadJob}
        </button>
        {fresh ? (
          <button type="button" onClick={() => void desk.downloadAll()}>
            {text.shell.downloadAll}
          </button>
        ) : null}
        <button type="button" onClick={() => desk.downloadJobFile()}>
          {text.shell.downloadJobFile}
        </button>
        <ChooseFiles label={text.shell.openJob} onFiles={(files) => void desk.open(files)} />
        <button type="button" onClick={() => void desk.close()}>
          {text.shell.closeJob}
        </button>
      </div>
      <p class="soft small">{text.shell.jobSays}</p>
    </footer>
  );
}

/** The page: head, steps, the card of the screen at hand, the bench below. */
export function Shell() {
  const { store, desk } = usePage();
  const screen = useKnown((s) => s.screen);
  const history = useKnown((s) => s.history);
  const view = useKnown((s) => s.view);
  const result = useKnown((s) => s.result);
  const unit = useKnown((s) => s.settings.unit);
  const theme = useKnown((s) => s.settings.theme);
  const head = useRef<HTMLHeadingElement>(null);
  const first = useRef(true);

  useEffect(() => {
    if (theme === 'as the browser') delete document.documentElement.dataset.theme;
    else document.documentElement.dataset.theme = theme;
  }, [theme]);

  useEffect(() => {
    const turn = () => store.set({ screen: screenOf(location.hash) });
    turn();
    addEventListener('hashchange', turn);
    const keys = (e: KeyboardEvent) => {
      const typing = e.target instanceof HTMLInputElement && e.target.type === 'text';
      if (typing || !(e.ctrlKey || e.metaKey) || e.key.toLowerCase() !== 'z') return;
      e.preventDefault();
      if (e.shiftKey) desk.redo();
      else desk.undo();
    };
    addEventListener('keydown', keys);
    // A file dropped beside the place for it must not make the browser leave the page.
    const over = (e: DragEvent) => e.preventDefault();
    const drop = (e: DragEvent) => {
      e.preventDefault();
      const files = [...(e.dataTransfer?.files ?? [])].map((f) => ({ name: f.name, content: f }));
      void desk.open(files);
    };
    addEventListener('dragover', over);
    addEventListener('drop', drop);
    const leave = () => void desk.save();
    addEventListener('pagehide', leave);
    return () => {
      removeEventListener('hashchange', turn);
      removeEventListener('keydown', keys);
      removeEventListener('dragover', over);
      removeEventListener('drop', drop);
      removeEventListener('pagehide', leave);
    };
  }, [store, desk]);

  useEffect(() => {
    document.title = `${text.screens[screen]} · ${text.shell.name}`;
    // Whoever listens to the page hears where it has turned to.
    if (!first.current) head.current?.focus({ preventScroll: true });
    if (!first.current) scrollTo({ top: 0 });
    first.current = false;
  }, [screen]);

  const document_ = history?.now.document ?? null;
  const job = useMemo<OpenJob | null>(
    () => (document_ ? { document: document_, text: jobOf(document_), view } : null),
    [document_, view],
  );
  const At = SCREEN_OF[screen];
  return (
    <div class="page">
      <button type="button" class="skip" onClick={() => head.current?.focus()}>
        {text.shell.skip}
      </button>
      <Head />
      <Notices />
      <Steps screen={screen} />
      <main class="card">
        <header>
          <h1 ref={head} tabIndex={-1}>
            {text.screens[screen]}
          </h1>
          <p class="soft">{text[screen].lead}</p>
        </header>
        {job ? (
          <At
            job={job}
            result={result}
            fresh={result !== null && result.document === job.document.id}
            unit={unit}
            desk={desk}
          />
        ) : (
          <Start />
        )}
      </main>
      {job ? <Foot /> : null}
      <Bench />
    </div>
  );
}
