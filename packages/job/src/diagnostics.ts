import { type Diagnostic, diagnosticsOf, type Locus } from '@haunch/model';

const job = diagnosticsOf('job');
const lay = diagnosticsOf('lay');
const prove = diagnosticsOf('prove');
const write = diagnosticsOf('write');

export const malformedJob = (problem: string, file: string, line: number): Diagnostic =>
  job(
    'error',
    'malformed-json',
    problem,
    { file, line },
    'Check the commas, quotes and brackets on this line and the one before.',
  );

export const jobValue = (path: string, problem: string, file: string, line: number): Diagnostic =>
  job(
    'error',
    'value',
    problem,
    { file, line, path },
    'docs/formats/haunch-job.md lists every field with its unit and default.',
  );

export const sourceMissing = (source: string, file: string, line: number): Diagnostic =>
  job(
    'error',
    'source-missing',
    `the file '${source}' that the job names is not there`,
    { file, line },
    'Give its name as seen from the job file.',
  );

export const sourceKind = (source: string, file: string, line: number): Diagnostic =>
  job(
    'error',
    'source-kind',
    `'${source}' is neither a master (.json) nor a drawing (.dxf, .svg)`,
    { file, line },
    'Name a haunch-master file, or a DXF or SVG of flat parts.',
  );

export const sameId = (what: string, id: string, file: string): Diagnostic =>
  job(
    'error',
    'same-id',
    `two ${what} are called '${id}'`,
    { file },
    "Rename one; two sources with the same part ids need a 'prefix' on one of the pieces.",
  );

export const unknownName = (what: string, id: string, path: string, file: string, line: number): Diagnostic =>
  job(
    'error',
    'unknown-name',
    `there is no ${what} '${id}'`,
    { file, line, path },
    `Use the id of a ${what} that the sources hold.`,
  );

export const noBoardForStock = (part: string, stock: string, known: readonly string[]): Diagnostic =>
  job(
    'error',
    'no-board-for-stock',
    `it is to be cut from stock '${stock}', of which the job has no board`,
    { part },
    `Add a board with this stock, or set the piece's "stock" for ${part} to one of: ${known.join(', ')}.`,
  );

export const noThickness = (part: string, source: string): Diagnostic =>
  job(
    'error',
    'no-thickness',
    'neither the drawing nor the job says for which thickness it was drawn',
    { part, file: source },
    'Give the piece a "thickness", such as "18 mm".',
  );

export const drawnForOther = (part: string, drawn: number, real: number): Diagnostic =>
  job(
    'warning',
    'drawn-for-other-thickness',
    `it was drawn for ${drawn} mm and is cut as drawn from a board of ${real} mm`,
    { part },
    'A drawing without marks is not refitted; make a master of it to let its slots follow the sheet.',
  );

export const noLadder = (file: string): Diagnostic =>
  job(
    'error',
    'no-ladder',
    'no ladder was tried for this sheet and this cutter',
    { file },
    'Run `haunch ladder` on this job, cut it, and type what was felt; or give "ladder": { "without": "…" } with the reason.',
  );

export const noLadderForMaterial = (material: string, joints: readonly string[], file: string): Diagnostic =>
  job(
    'error',
    'no-ladder-for-material',
    `no ladder was tried in '${material}', from which the slot${joints.length === 1 ? '' : 's'} of ${joints.slice(0, 4).join(', ')}${joints.length > 4 ? ` and ${joints.length - 4} more` : ''} ${joints.length === 1 ? 'is' : 'are'} cut`,
    { file, path: 'ladder' },
    `Cut a ladder from a board of it (haunch ladder --board …); or, if its boards are the same stuff as another stock's, give both one "material"; or add { "without": "the reason", "stock": "${material}" } to "ladder".`,
  );

export const twoLadders = (material: string, first: string, second: string, locus: Locus): Diagnostic =>
  job(
    'error',
    'two-ladders',
    `two ladders speak for '${material}', one from board '${first}' and one from '${second}'`,
    locus,
    'Keep the later one; or give the boards a "material" each, if they are not the same stuff.',
  );

export const cuttersDisagree = (first: string, second: string, apart: number, locus: Locus): Diagnostic =>
  job(
    'warning',
    'cutters-disagree',
    `the ladders from '${first}' and '${second}' show the cutter ${apart.toFixed(3)} mm apart in diameter; their mean is used`,
    locus,
    'Was it ground or changed between them, or does one material spring back? Measure slot and peg of both again.',
  );

export const fitsBeside = (file: string): Diagnostic =>
  job(
    'note',
    'fits-beside',
    "the shop's fits were found beside the job and are used",
    { file },
    'Name the file as "table" under "fit" to say so in the job itself.',
  );

export const cutterWiderThanSlot = (
  { id, diameter }: { readonly id: string; readonly diameter: number },
  width: number,
  locus: Locus,
): Diagnostic =>
  job(
    'error',
    'cutter-wider-than-slot',
    `the slot is ${+width.toFixed(3)} mm wide and the thinnest router ${id} cuts ${+diameter.toFixed(3)} mm`,
    locus,
    `Take a router that cuts ${+width.toFixed(3)} mm at the most; one that is thinner by 0.6 mm leaves room for a finishing pass.`,
  );

export const feedsBeside = (file: string): Diagnostic =>
  job(
    'note',
    'feeds-beside',
    "the shop's table of feeds was found beside the job and is used",
    { file },
    'Name the file as "table" under "cutting" to say so in the job itself.',
  );

export const knockWithoutSteps = (file: string, line: number): Diagnostic =>
  job(
    'warning',
    'knock-without-steps',
    'equal knock was asked for, but nothing says which joints go home in one move, so no clearance was changed',
    { file, line, path: 'fit.knock' },
    'It goes by the steps of the master’s assembly; a job of several pieces has none in common yet.',
  );

export const turnedMates = (joints: readonly string[], file: string, line: number): Diagnostic =>
  job(
    'error',
    'turned-mates',
    `no turned mates are wanted, but the grain turns ${joints.slice(0, 6).join(', ')}${joints.length > 6 ? ` and ${joints.length - 6} more` : ''}`,
    { file, line, path: 'machine.calibration.programs' },
    'Let the programs be corrected ("programs": "correct"); or give a board without grain ("grain": "none") for one of the plates.',
  );

/** Mates that lie in unlike thickness, all together, and what moving parts did about it. mm */
export const matesUnlike = (
  {
    before,
    after,
    moved,
  }: { readonly before: number; readonly after: number; readonly moved: readonly string[] },
  allowed: number,
  byHand: boolean,
  file: string,
): Diagnostic =>
  job(
    'note',
    'mates-unlike',
    moved.length === 0
      ? `mates lie where the sheets differ in thickness, by ${before.toFixed(2)} mm in all beyond ${allowed} mm for each pair, and ${byHand ? 'all parts stay where they were laid' : 'no other arrangement that takes as little of them was found'}`
      : `the sheets are uneven, so ${moved.length} part${moved.length === 1 ? ' was' : 's were'} laid otherwise: what mates differ in thickness beyond ${allowed} mm for each pair is ${after.toFixed(2)} mm in all, where it was ${before.toFixed(2)} mm`,
    { file },
    'Nothing is to be done: every slot is cut for the very spot that enters it. Where edges must come flush, see in the dry fit how far they do; a more even sheet, or parts laid by hand, makes it less.',
  );

export const machineLeftOver = (by: number, joint: string, file: string, line: number): Diagnostic =>
  job(
    'warning',
    'machine-left-over',
    `though no mate is turned, the machine still puts ${joint} out by ${by.toFixed(3)} mm`,
    { file, line, path: 'machine.calibration', joint },
    'It cuts out of square, or slots too wide: mend that, or let the programs be corrected ("programs": "correct").',
  );

export const machineAsItIs = (
  mates: readonly { readonly joint: string; readonly by: number }[],
  worst: { readonly part: string; readonly by: number },
  file: string,
  line: number,
): Diagnostic => {
  const named = mates.slice(0, 8).map((m) => `${m.joint} by ${m.by.toFixed(3)} mm`);
  const more = mates.length > named.length ? ` and ${mates.length - named.length} more` : '';
  const joints = mates.length === 0 ? 'no mate notices' : `mates are off: ${named.join(', ')}${more}`;
  return job(
    'warning',
    'machine-as-it-is',
    `the calibration shows a machine that is not true, and programs are left "as it is": edges of ${worst.part} come out up to ${worst.by.toFixed(3)} mm aside, and ${joints}`,
    { file, line, path: 'machine.calibration.programs' },
    'What the proof finds cut into parts, left on them or tight in their seats comes of this first. Let the programs be corrected ("programs": "correct"); if the figures are not the machine\'s, mend the calibration.',
  );
};

export const notInLadder = (what: 'r1' | 'h1', file: string): Diagnostic =>
  job(
    'error',
    'not-in-ladder',
    `there is no ${what} in this job's ladder: ${what === 'r1' ? 'its relief is "none"' : 'it has no housings'}`,
    { file, path: what === 'r1' ? 'relief.form' : 'pieces' },
    'Leave the answer out.',
  );

export const noRouter = (file: string): Diagnostic =>
  job(
    'error',
    'no-router',
    'no cutter of the job is a router',
    { file, path: 'cutters' },
    'Outlines need a router cutter; add one with its measured diameter.',
  );

export const unknownPost = (post: string, known: readonly string[], file: string, line: number): Diagnostic =>
  job(
    'error',
    'unknown-post',
    `there is no post-processor '${post}'`,
    { file, line, path: 'machine.post' },
    `Known: ${known.join(', ')}.`,
  );

export const unfitPost = (post: string, problem: string, file: string, line: number): Diagnostic =>
  job(
    'error',
    'unfit-post',
    `the package '${post}' makes no post-processor that can be used: ${problem}`,
    { file, line, path: 'machine.post' },
    'It must keep the contract in docs/contracts/a-dialect-of-your-own.md; take a version of it that does.',
  );

export const postOptions = (post: string, problem: string, file: string, line: number): Diagnostic =>
  job(
    'error',
    'post-options',
    `the post-processor '${post}' does not take these options: ${problem}`,
    { file, line, path: 'machine.postOptions' },
    'See the README of the post-processor for its options.',
  );

export const noRoom = (
  part: string,
  boards: readonly string[],
  grain = false,
  taking: readonly string[] = [],
): Diagnostic =>
  lay(
    'error',
    'no-room',
    `there is no room left for it on ${boards.join(', ')}${grain ? ' with its grain along theirs; across it would go in' : ''}`,
    { part },
    `Add a board of its stock, reduce the web or the edge margin, or raise lay.effort and lay.improve.${taking.length > 0 ? ` Room is taken by ${taking.join(' and ')} as well.` : ''}`,
  );

export const layoutInvalid = (message: string, locus: Locus): Diagnostic =>
  lay(
    'error',
    'invalid',
    `the referee refuses the layout: ${message}`,
    locus,
    'This is a fault of the strategy, not of your job: please report it with the job file; another seed may help meanwhile.',
  );

export const placedUnknown = (
  part: string,
  what: 'part' | 'board',
  name: string,
  known: readonly string[],
  file: string,
  line: number,
): Diagnostic =>
  lay(
    'error',
    'placed-unknown',
    what === 'part'
      ? `lay.placements names a part '${name}', which the job does not make`
      : `lay.placements lays it on board '${name}', which the job does not have`,
    { part, file, line, path: `lay.placements.${part}` },
    `Known: ${known.join(', ')}. Take the placement out, or name one of these.`,
  );

export const placedWrong = (
  part: string,
  message: string,
  file: string,
  line: number,
  at: Locus,
): Diagnostic =>
  lay(
    'error',
    'placed-wrong',
    `where lay.placements lays it, it cannot lie: ${message}`,
    { ...at, part, file, line, path: `lay.placements.${part}` },
    'Move or turn it, or take its placement out, and it is laid where there is room.',
  );

export const refitSpacing = (message: string, locus: Locus): Diagnostic =>
  lay(
    'error',
    'spacing-after-refit',
    `after refitting to each board's own thickness the layout no longer keeps its spacing: ${message}`,
    locus,
    'Raise lay.web by the thickness difference of the boards.',
  );

/** Says that a board's program broke these rules and is not written. */
export const notProved = (board: string, rules: readonly string[]): Diagnostic =>
  write(
    'error',
    'not-proved',
    `its program is not proved (${rules.join(', ')}) and is not written`,
    { board },
    'Read the findings above; --unproved writes it with a first line that says so.',
  );

/** Says in which place a joint as cut is not as wanted, with the clearances there in words. */
export const jointNotWanted = (
  joint: string,
  fit: string,
  verdict: string,
  clearance: string,
  wanted: string,
): Diagnostic =>
  write(
    'error',
    'joint-not-as-wanted',
    `as cut it is ${verdict} at ${fit}: clearance ${clearance}, wanted ${wanted}`,
    { joint },
    'See the joint in the report for its walls and program lines.',
  );

export const stopped = (stage: string): Diagnostic =>
  job('error', 'stopped', `stopped on request while at: ${stage}`, {}, 'Nothing was written.');

export const noBoardMatches = (file: string, boards: readonly string[]): Diagnostic =>
  prove(
    'error',
    'no-board-matches',
    `the program cuts none of the job's boards (${boards.join(', ')})`,
    { file },
    'Is it the program of another job, or of this one with another seed?',
  );

export const noTools = (file: string, numbers: readonly number[]): Diagnostic =>
  job(
    'error',
    'no-cutter-size',
    `the program uses ${numbers.map((n) => `T${n}`).join(', ')}, whose diameter is not given`,
    { file },
    'Give --cutter 6mm for all, or --cutter 1=6mm --cutter 2=5mm.',
  );

export const zZeroTaken = (file: string, zZero: string, deepest: number): Diagnostic =>
  job(
    'note',
    'z-zero-taken',
    `Z zero is taken to be at the ${zZero === 'top' ? "sheet's top" : 'bed'}, since the deepest cut is at Z ${Math.round(deepest * 1000) / 1000 + 0}`,
    { file },
    'Give --z-zero top or --z-zero bed when it is not so.',
  );

/** A master is given and nobody says how thick the sheet is. */
export const noSheetThickness = (file: string): Diagnostic =>
  job(
    'error',
    'no-sheet-thickness',
    'a master fits every sheet, and nothing says how thick this one is',
    { file },
    'Give --thickness 17.7mm, and --thickness BR=17.3mm for a part of another sheet.',
  );

/** A program reads in another dialect than the one that is taken when nothing is said. */
export const dialectUnsaid = (file: string, line: number | undefined, likely: string): Diagnostic =>
  job(
    'error',
    'dialect-unsaid',
    'the program does not read as RS274/NGC, but without error in another dialect',
    { file, ...(line === undefined ? {} : { line }) },
    `Give --dialect "${likely}" if that is what it is written in.`,
  );

/** None of the parts was found in a program. */
export const nothingAligned = (file: string, against: string): Diagnostic =>
  prove(
    'error',
    'nothing-found',
    `none of the parts of ${against} is found among what the program cuts`,
    { file },
    'Check the thickness, the cutter, the dialect, --z-zero, and that the program belongs to these parts.',
  );

/** A file that is no text. `line` from 1, `at` the byte from 0. */
export const notText = (file: string, line: number, at: number): Diagnostic =>
  prove(
    'error',
    'not-text',
    `it is no text: byte ${at + 1} is one that no program holds`,
    { file, line },
    'Is it the program itself, and not a drawing, a packed file or a picture?',
  );

/** A program of more lines than are proved at once. */
export const tooManyBlocks = (file: string, lines: number, most: number): Diagnostic =>
  prove(
    'error',
    'too-many-blocks',
    `it has ${lines} lines; at most ${most} are proved at once`,
    { file },
    'Split it where the cutter is lifted, and prove the programs one by one.',
  );

/** A text that moves nothing and has no errors either. */
export const nothingMoves = (file: string): Diagnostic =>
  prove(
    'error',
    'nothing-to-prove',
    'the program moves nothing, so there is nothing to judge',
    { file },
    'Check that the right file was given and that it was written to its end.',
  );

/** How much of a text does not read. */
export const doesNotRead = (
  file: string,
  n: {
    readonly errors: number;
    readonly lines: number;
    readonly more: boolean;
    readonly first: number | undefined;
  },
): Diagnostic =>
  prove(
    'error',
    'does-not-read',
    `${n.more ? 'more than ' : ''}${n.errors} ${n.errors === 1 ? 'error' : 'errors'} on ${n.more ? 'more than ' : ''}${n.lines} ${n.lines === 1 ? 'line' : 'lines'} of the program`,
    { file, ...(n.first === undefined ? {} : { line: n.first }) },
    "Is it another machine's language, or cut off? --dialect says what it is written in.",
  );

/** A piece comes free that is none of the parts. */
export const strangePiece = (
  s: {
    readonly at: { readonly x: number; readonly y: number };
    readonly width: number;
    readonly height: number;
  },
  file: string,
): Diagnostic =>
  prove(
    'warning',
    'strange-piece',
    `a piece of ${s.width.toFixed(1)} × ${s.height.toFixed(1)} mm at X ${s.at.x.toFixed(1)} Y ${s.at.y.toFixed(1)} matches no part`,
    { file, at: s.at },
    'If it is waste, nothing is wrong; it was not judged.',
  );

/** Parts of a master that another program cuts. */
export const partsElsewhere = (parts: readonly string[], file: string): Diagnostic =>
  prove(
    'note',
    'parts-elsewhere',
    `${parts.join(', ')} ${parts.length === 1 ? 'is' : 'are'} not cut by this program`,
    { file, part: parts[0]! },
    'Prove the program that cuts the rest as well; joints between boards are judged there with these parts as drawn.',
  );

/** Mates were to be found in a drawing, and questions stand before them. */
export const matesOpen = (file: string, questions: number): Diagnostic =>
  job(
    'error',
    'mates-open',
    `which part enters which slot is not settled: ${questions} ${questions === 1 ? 'question' : 'questions'} to answer`,
    { file },
    'Answer with `haunch mates`, then give its master as --mates <master.json>.',
  );

export const bareDrawing = (file: string): Diagnostic =>
  job(
    'error',
    'bare-drawing',
    'a drawing has no marks, frames or mates, so no master can be made of it',
    { file },
    'Write a drawing (.dxf) or a picture (.svg); a refit of a drawing goes by the features recognised in it.',
  );

export const unknownPart = (id: string, known: readonly string[], file: string): Diagnostic =>
  job('error', 'unknown-part', `there is no part '${id}'`, { file }, `Its parts are: ${known.join(', ')}.`);

export const masterKeepsNoClearance = (out: string): Diagnostic =>
  job(
    'warning',
    'master-keeps-no-clearance',
    'a master is written with walls and faces touching: clearance and reliefs are left out',
    { file: out },
    'Write a drawing (.dxf) to see them; a job applies them for each pair of parts.',
  );

export const outputKind = (out: string): Diagnostic =>
  job(
    'error',
    'output-kind',
    'the ending says neither master, drawing nor picture',
    { file: out },
    'End the name with .json, .dxf or .svg.',
  );

/** A file that should hold answers and does not. */
export const answersUnread = (file: string, why: string, line: number): Diagnostic =>
  job(
    'error',
    'answers-unread',
    `no answers can be read from it: ${why}`,
    { file, line },
    'Give a master that `haunch mates` wrote, or an object such as {"piece-0": 1}.',
  );

/** A thickness was given for a master, whose parts have theirs. */
export const masterStatesThickness = (file: string): Diagnostic =>
  job(
    'error',
    'master-states-thickness',
    'a master states the thickness of its parts itself',
    { file },
    'Leave --thickness out; `haunch refit` brings a master to another thickness.',
  );

/** A drawing whose thickness nobody has confirmed, in a command that is told it by --thickness. */
export const withThicknessHint = (unconfirmed: Diagnostic): Diagnostic => ({
  ...unconfirmed,
  hint: 'Say it with --thickness, such as --thickness 18mm. Nothing is found on a likelihood alone.',
});
