import type { FunctionComponent } from 'preact';
import type { Desk } from '../job/desk.js';
import type { DisplayUnit } from '../job/display-unit.js';
import type { JobDocument, JobText } from '../job/job-document.js';
import type { JobView, MadeResult } from '../work/wire.js';

/**
 * THE CONTRACT OF A SCREEN
 *
 * A screen is a component in `screens/<name>/<name>-screen.tsx` that gets `ScreenProps` and draws `<Entry>`s of the job card; the
 * shell draws the card, its head and its state. It is only shown while a job is open. Everything it needs comes in:
 *
 * - `job.document`: the state of the job (the text of job.json and the files beside it; immutable). `job.text` is the same, parsed, as it
 *   was typed: what an edit changes. `job.view` is what the packages say of it: settings in mm, boards with maps, ladders, diagnostics;
 *   it comes a moment later, and is null or of the state before until then (`view.document` says of which).
 * - `result`: what was last made, or null. `fresh` says whether it is of the job as it is now; if not, show it and say so
 *   (`text.result.stale`). It holds the report (`result.report`, the contents of report.json) and the list of files. Fetch a file with
 *   `desk.file(path)`, download one with `desk.downloadFile(path)`. Programs are in it only when all is proved.
 * - `desk`: everything that is done to the job. `desk.editJob(change, done)` makes the next state (undo and autosave follow by
 *   themselves; `done` says in words what was done, past tense, for the undo button). Never change a document in place.
 * - `desk.ask((service, document) => …)`: a short question to the quick worker (answers in tens of milliseconds);
 *   `desk.long(what, (service, document, tell) => …)`: long work in the other one, one at a time, with progress and the Stop button. Stop
 *   ends the worker; work that ended so answers null.
 * - What no file holds (toolpaths, placed parts, meshes) is asked of the worker: add a call to `work/service.ts`, implement it in a file
 *   of its own in `work/` with `madeOf(document)` (what was made, from memory or, after a reload, made again to the same bytes), and
 *   name it in `work/worker.ts`. Send only what is drawn: the page may not be held up longer than 50 ms, so that large arrays go as typed
 *   arrays, and pictures as path data or SVG text.
 * - `unit`: show lengths with `formatLength(mm, unit)`; type them with `<LengthField>`, which writes the unit into the job file.
 *
 * Words stand in `text/<screen>.ts` and nowhere else; a test looks. Colours come from `theme/tokens.css`; nothing is told by colour
 * alone; what is clicked is a button (or an SVG element with a role, a name, tabindex and keys) of 44 px or more. Heavy libraries are
 * imported with `import()` inside the screen, so that the first load stays small. `boards` and `fit` are worked examples.
 */
export type Screen = FunctionComponent<ScreenProps>;

/** What every screen is given. */
export interface ScreenProps {
  readonly job: OpenJob;
  readonly result: MadeResult | null;
  readonly fresh: boolean;
  readonly unit: DisplayUnit;
  readonly desk: Desk;
}

/** The job as a screen sees it. */
export interface OpenJob {
  readonly document: JobDocument;
  readonly text: JobText;
  readonly view: JobView | null;
}
