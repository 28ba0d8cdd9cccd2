import { type Diagnostic, diagnosticsOf, type Locus } from '@haunch/model';

const say = diagnosticsOf('nc');

const round = (v: number): string => String(Math.round(v * 1e6) / 1e6 + 0);

export const lineTooLong = (at: Locus, length: number): Diagnostic =>
  say(
    'error',
    'line-too-long',
    `The line has ${length} characters; 256 are allowed.`,
    at,
    'Break the line in two.',
  );

export const badCharacter = (at: Locus, character: string): Diagnostic =>
  say(
    'error',
    'bad-character',
    `The character ${JSON.stringify(character)} has no place here.`,
    at,
    character === ';'
      ? 'Put comments in round brackets.'
      : 'A line holds an optional /, an optional N number, then words, #settings and (comments).',
  );

export const commentNotClosed = (at: Locus): Diagnostic =>
  say(
    'error',
    'comment-not-closed',
    'A comment is opened but not closed on its line.',
    at,
    'Add ) at its end.',
  );

export const commentNested = (at: Locus): Diagnostic =>
  say('error', 'comment-nested', 'A comment has another ( inside.', at, 'Use [ ] inside comments.');

export const badLineNumber = (at: Locus, why: string): Diagnostic =>
  say(
    'error',
    'line-number',
    `The line number ${why}.`,
    at,
    'Write N and one to five digits first on the line.',
  );

export const unknownWord = (at: Locus, letter: string): Diagnostic =>
  say(
    'error',
    'unknown-word',
    `The letter ${letter} begins no word of this language.`,
    at,
    'Words begin with one of A B C D F G H I J K L M P Q R S T X Y Z.',
  );

export const rotaryWord = (at: Locus, letter: string): Diagnostic =>
  say(
    'error',
    'rotary-word',
    `The word ${letter} turns a rotary axis, which a three-axis router does not have.`,
    at,
    'Write the program for X, Y and Z alone.',
  );

export const repeatedWord = (at: Locus, letter: string): Diagnostic =>
  say('error', 'repeated-word', `The word ${letter} stands twice on the line.`, at, 'Split the line in two.');

export const badValue = (at: Locus, what: string, problem: string): Diagnostic =>
  say(
    'error',
    'bad-value',
    `${what}: ${problem}.`,
    at,
    'A value is a number such as -1.5, a #parameter, a function such as SIN[30], or an [expression].',
  );

export const badArithmetic = (at: Locus, problem: string): Diagnostic =>
  say('error', 'bad-arithmetic', `The expression has no value: ${problem}.`, at, 'Correct the expression.');

export const badParameter = (at: Locus, index: number): Diagnostic =>
  say(
    'error',
    'bad-parameter',
    `There is no parameter #${round(index)}.`,
    at,
    'Parameters have whole numbers from 1 to 5399.',
  );

export const reservedParameter = (at: Locus, index: number): Diagnostic =>
  say(
    'error',
    'reserved-parameter',
    `The line sets #${index}, where the control keeps its origins, which this reading does not follow.`,
    at,
    'Set origins with G10 L2.',
  );

export const notWhole = (at: Locus, word: string, value: number): Diagnostic =>
  say(
    'error',
    'not-whole',
    `${word}${round(value)} must be a whole number.`,
    at,
    `Give ${word} a whole number.`,
  );

export const outOfRange = (at: Locus, word: string, value: number, range: string): Diagnostic =>
  say(
    'error',
    'out-of-range',
    `${word}${round(value)} is out of range: ${range}.`,
    at,
    `Correct the word ${word}.`,
  );

export const unknownCode = (at: Locus, code: string): Diagnostic =>
  say('error', 'unknown-code', `${code} is not a code of this language.`, at, 'Use the codes of RS274/NGC.');

export const refusedCode = (at: Locus, code: string, why: string, hint: string): Diagnostic =>
  say('error', 'refused-code', `${code} is refused: ${why}.`, at, hint);

export const codeConflict = (at: Locus, what: string): Diagnostic =>
  say('error', 'code-conflict', `${what} on one line.`, at, 'Split the line in two.');

export const unusedWord = (at: Locus, word: string): Diagnostic =>
  say('error', 'unused-word', `No code of the line makes use of the word ${word}.`, at, `Take ${word} out.`);

export const missingWord = (at: Locus, code: string, word: string): Diagnostic =>
  say('error', 'missing-word', `${code} needs ${word}.`, at, `Add ${word} to the line.`);

export const noMotionMode = (at: Locus): Diagnostic =>
  say(
    'error',
    'no-motion-mode',
    'The line has X, Y or Z but no motion code is in force.',
    at,
    'Write G0, G1, G2 or G3 on the line.',
  );

export const machineMoveNeedsLine = (at: Locus): Diagnostic =>
  say(
    'error',
    'g53-needs-straight-move',
    'G53 stands without G0 or G1 in force.',
    at,
    'Write G53 G0 or G53 G1.',
  );

export const badCycle = (at: Locus, code: string, why: string): Diagnostic =>
  say(
    'error',
    'bad-cycle',
    `The cycle ${code} cannot be run: ${why}.`,
    at,
    'Correct the words of the cycle.',
  );

export const arcRadius = (at: Locus, start: number, end: number): Diagnostic =>
  say(
    'error',
    'arc-radius',
    `The arc starts at radius ${round(start)} mm from its centre and ends at radius ${round(end)} mm.`,
    at,
    'The two may differ by 0.002 mm (0.0002 in); correct the centre or the end.',
  );

export const badArc = (at: Locus, why: string): Diagnostic =>
  say(
    'error',
    'bad-arc',
    `The arc cannot be drawn: ${why}.`,
    at,
    'Give end and centre offsets of a real arc.',
  );

export const arcFromUnknown = (at: Locus): Diagnostic =>
  say(
    'error',
    'arc-from-unknown-place',
    'An arc starts where the cutter is not known to be.',
    at,
    'Move to a stated X, Y and Z with G0 first.',
  );

export const arcNearHalfTurn = (at: Locus, degrees: number): Diagnostic =>
  say(
    'warning',
    'arc-radius-form',
    `An arc of ${round(degrees)}° is given by its radius, so that its centre is ill defined.`,
    at,
    'Give the centre by I and J instead.',
  );

export const whileCompensating = (at: Locus, code: string): Diagnostic =>
  say(
    'error',
    'while-compensating',
    `${code} may not stand under cutter compensation.`,
    at,
    'Write G40 first.',
  );

export const machineCoordinates = (at: Locus, code: string): Diagnostic =>
  say(
    'warning',
    'machine-coordinates',
    `${code} moves to a place of the machine, and the text does not say where that is on the board.`,
    at,
    'Retract to a stated Z of the program instead.',
  );

export const unknownOrigin = (at: Locus, axis: string): Diagnostic =>
  say(
    'error',
    'unknown-origin',
    `${axis} counts here from another origin, and the text does not say how it lies to the first one.`,
    at,
    'Keep to one coordinate system, or set both origins with G10 L2 before the first move.',
  );

export const incrementalFromUnknown = (at: Locus): Diagnostic =>
  say(
    'warning',
    'incremental-from-unknown-place',
    'An incremental move starts where the cutter is not known to be.',
    at,
    'Move to a stated X, Y and Z under G90 first.',
  );

export const blockDelete = (at: Locus): Diagnostic =>
  say(
    'warning',
    'block-delete',
    'Lines that begin with / are carried out or not by a switch of the control; they are read as carried out.',
    at,
    'Take the / or the lines out.',
  );

export const feedBeforeUnits = (at: Locus): Diagnostic =>
  say(
    'warning',
    'feed-before-units',
    'F takes effect before the change of units on the same line, so it counts in the old unit.',
    at,
    'Put G20 or G21 on a line before F.',
  );

export const noFeed = (at: Locus): Diagnostic =>
  say('warning', 'no-feed', 'The cutter moves at feed before any feed was given.', at, 'Add an F word.');

export const toolNotSelected = (at: Locus): Diagnostic =>
  say(
    'warning',
    'tool-not-selected',
    'M6 changes the tool, but no T said to which.',
    at,
    'Write T and its number.',
  );

export const lengthOfAnother = (at: Locus, length: number, tool: number | null): Diagnostic =>
  say(
    'warning',
    'length-of-another-tool',
    `The length of tool ${length} is in force while ${tool === null ? 'another' : `tool ${tool}`} moves.`,
    at,
    'Write G43 with the number of the tool in the spindle after every change, or G49.',
  );

export const noUnit = (at: Locus): Diagnostic =>
  say(
    'warning',
    'no-unit',
    'The first move comes before any G20 or G21; millimetres are taken.',
    at,
    'Write G21 (or G20 for inches) at the start.',
  );

export const percentNotClosed = (at: Locus): Diagnostic =>
  say(
    'error',
    'percent-not-closed',
    'The file opens with % but has no second % line.',
    at,
    'End it with a % line.',
  );

export const strayPercent = (at: Locus): Diagnostic =>
  say('error', 'stray-percent', 'A % line stands in a file that did not open with one.', at, 'Take it out.');

export const noEnd = (at: Locus): Diagnostic =>
  say('error', 'no-end', 'The program ends without M2, M30 or a pair of % lines.', at, 'End it with M2.');

export const moreOfThem = (at: Locus, code: string, count: number): Diagnostic =>
  say(
    'note',
    'more',
    `${count} more of ${code} are not listed.`,
    at,
    'Correct the first ones and read again.',
  );
