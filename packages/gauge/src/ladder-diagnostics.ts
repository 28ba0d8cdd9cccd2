import { type Diagnostic, diagnosticsOf, type Locus } from '@haunch/model';

const say = diagnosticsOf('ladder');

const mm = (value: number): string => `${+value.toFixed(3)} mm`;

/** Nothing was answered. */
export const noAnswers = (locus: Locus): Diagnostic =>
  say(
    'error',
    'no-answers',
    'nothing is said of how the plug felt',
    locus,
    'Three answers suffice: the tightest rung by hand, one that wants the mallet, one that rattles.',
  );

/** The answers leave open what is then assumed; `loose` where nothing bounds snug from below. mm */
export const fewAnswers = (
  answers: number,
  assumed: readonly string[],
  loose: boolean,
  locus: Locus,
): Diagnostic =>
  say(
    loose ? 'warning' : 'note',
    'few-answers',
    `${answers === 1 ? 'one answer says' : `${answers} answers say`} little: ${assumed.join('; ')}`,
    locus,
    'Three answers suffice: the tightest rung by hand, one that wants the mallet, one that rattles.',
  );

/** A rung is named that the ladder does not have. */
export const unknownRung = (rung: string, known: readonly string[], locus: Locus): Diagnostic =>
  say(
    'error',
    'unknown-rung',
    `the ladder has no rung '${rung}'`,
    locus,
    `Its rungs are ${known.join(', ')}, counted from the cut-off corner.`,
  );

/** A wider rung felt tighter. */
export const answersContradict = (
  a: string,
  feltA: string,
  b: string,
  feltB: string,
  locus: Locus,
): Diagnostic =>
  say(
    'error',
    'answers-contradict',
    `rung ${a} is tighter than rung ${b}, yet it was answered "${feltA}" and the wider one "${feltB}"`,
    locus,
    'Try both again with clean walls, counting from the cut-off corner.',
  );

/** One rung was answered in two ways. */
export const answeredTwice = (rung: string, felt: readonly string[], locus: Locus): Diagnostic =>
  say(
    'error',
    'answered-twice',
    `rung ${rung} was answered ${felt.map((f) => `"${f}"`).join(' and ')}; it can be only one of them`,
    locus,
    `Try rung ${rung} again, counting from the cut-off corner, and give one answer for it.`,
  );

/** The rungs across X and those across Y do not agree. */
export const axesDisagree = (felt: string, apart: number, locus: Locus): Diagnostic =>
  say(
    'error',
    'axes-disagree',
    `"${felt}" begins at least ${mm(apart)} apart across X and across Y`,
    locus,
    'Check backlash and scale of the machine along both axes (a calibration cut shows them), then cut the ladder again.',
  );

/** Every rung was too tight. */
export const ladderTooNarrow = (widest: number, locus: Locus): Diagnostic =>
  say(
    'error',
    'too-narrow',
    `no rung let the plug in by hand; the widest has ${mm(widest)}`,
    locus,
    'Make another ladder about a greater clearance, and measure cutter and sheet again.',
  );

/** Every rung was too loose. */
export const ladderTooWide = (tightest: number, locus: Locus): Diagnostic =>
  say(
    'error',
    'too-wide',
    `every rung rattles; the tightest has ${mm(tightest)}`,
    locus,
    'Make another ladder about a smaller clearance, and measure cutter and sheet again.',
  );

/** No room for the ladder in the waste of a layout. */
export const ladderNoRoom = (board: string, width: number, height: number, locus: Locus): Diagnostic =>
  say(
    'error',
    'no-room',
    `the waste of board '${board}' has no room for a ladder of ${width} × ${height} mm`,
    locus,
    'Take fewer rungs, another board, or a piece of the same sheet as a board of its own.',
  );

/** Answers for a ladder that was cut from another board or with another cutter. */
export const otherLadder = (
  what: 'board' | 'cutter',
  cut: string,
  wanted: string,
  locus: Locus,
): Diagnostic =>
  say(
    'error',
    'other-ladder',
    `this ladder was cut ${what === 'board' ? 'from board' : 'with cutter'} '${cut}'; the joints are cut ${what === 'board' ? 'from' : 'with'} '${wanted}'`,
    locus,
    'Cut and try a ladder from this sheet with this cutter; a ladder speaks for no other.',
  );

/** What a board measured where its ladder was cut, then and now. mm */
interface SheetThen {
  readonly then: number;
  readonly now: number;
  readonly at: string;
}

/** The sheet measures further than `limit` from what it did when the ladder was cut from it. mm */
export const otherThickness = (
  board: string,
  { then, now, at }: SheetThen,
  limit: number,
  locus: Locus,
): Diagnostic =>
  say(
    'error',
    'other-thickness',
    `this ladder was cut in a sheet of ${mm(then)}; board '${board}' measures ${mm(now)} ${at} now, ${mm(Math.abs(now - then))} ${now > then ? 'thicker' : 'thinner'}, and a ladder is carried over ${mm(limit)} at most`,
    locus,
    'If it is another sheet, or has moved so far, cut and try a ladder from it as it is; if the readings are wrong, mend them.',
  );

/** The sheet measures a little otherwise than when the ladder was cut from it. mm */
export const sheetMoved = (board: string, { then, now, at }: SheetThen, locus: Locus): Diagnostic =>
  say(
    'note',
    'sheet-moved',
    `board '${board}' measures ${mm(now)} ${at} now, and ${mm(then)} when its ladder was cut: joints are cut with ${mm(Math.abs(now - then))} ${now > then ? 'less' : 'more'} clearance over the sheet as it measures now`,
    locus,
    'What was felt is a real width, which stays. If the sheet itself has moved, cut the ladder anew.',
  );

/** Nobody says where the plug was cut: what was felt goes by the whole board. mm */
export const plugUnplaced = (board: string, thickness: number, locus: Locus): Diagnostic =>
  say(
    'note',
    'plug-unplaced',
    `where the plug was cut on board '${board}' is not known, so what was felt goes by the board's mean of ${mm(thickness)}`,
    locus,
    'On a sheet that varies, type what was felt with the job that the ladder was made from, so that its layout tells the place.',
  );

/** The plug's corners do not go into the relieved rung. */
export const cornerStands = (
  form: string,
  surplus: number,
  board: string,
  level: 'warning' | 'error',
  locus: Locus,
): Diagnostic =>
  say(
    level,
    'corner-stands',
    `in the ladder of '${board}' the plug does not reach the floor of r1: relief ${form} with a surplus of ${mm(surplus)} lets no corner in, and every joint would stand proud`,
    locus,
    `Give "relief": { "surplus": "${mm(surplus + 0.1)}" } or more, or another form, and try r1 of a new ladder; first measure slot and peg, as a smaller cutter than believed does this too.`,
  );

/** A housing came out deeper or shallower than the program has it. */
export const housingOff = (
  cut: number,
  measured: number,
  level: 'warning' | 'error',
  locus: Locus,
): Diagnostic =>
  say(
    level,
    'housing-off',
    `h1 measures ${mm(measured)} where the program has ${mm(cut)}: ${mm(Math.abs(measured - cut))} too ${measured > cut ? 'deep' : 'shallow'}`,
    locus,
    level === 'error'
      ? 'So much is no machine’s fault: was it another housing, another length typed, or the cutter set to another height? Measure again.'
      : 'Housings of this job are cut by so much less or more. Set Z zero anew, look whether the sheet lies flat and whether the cutter has slipped, and try again.',
  );
