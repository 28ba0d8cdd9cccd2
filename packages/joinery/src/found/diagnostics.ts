import { type Diagnostic, diagnosticsOf } from '@haunch/model';

const say = diagnosticsOf('mates');

const list = (names: readonly string[]): string =>
  names.length > 12 ? `${names.slice(0, 12).join(', ')} …` : names.join(', ');

/** No two of the parts make a joint. */
export const nothingMeets = (parts: number): Diagnostic =>
  say(
    'error',
    'nothing-meets',
    `no two of the ${parts} parts make a joint with each other`,
    {},
    'Check the thickness and the unit: a slot is known by being as wide as a plate is thick.',
  );

const thickness = (given: readonly number[]): string => given.map((t) => `${+t.toFixed(3)} mm`).join(' or ');

/** The parts are given at a thickness that no slot of theirs fits, while they speak for another. */
export const thicknessFits = (
  level: 'error' | 'warning',
  given: readonly number[],
  rather: readonly string[],
): Diagnostic =>
  say(
    level,
    'thickness-fits-nothing',
    `nothing in the parts is drawn for sheet ${thickness(given)} thick; they speak for ${rather.join('; ')}`,
    {},
    level === 'error'
      ? 'Give the thickness that the drawing was made for. To cut it from another sheet, refit the master that is found.'
      : 'They go together at an angle as they are given. Check that this is meant, and not another thickness.',
  );

/** A question that the drawing cannot answer and that must be, before there is a master. */
export const needsAnswer = (id: string, text: string, choices: number, part: string): Diagnostic =>
  say(
    'error',
    'needs-answer',
    `question '${id}' has no answer yet: ${text}`,
    { part },
    `Look at the ${choices} choices and put "${id}": <number> among the answers.`,
  );

/** An answer to a question that is not asked of these parts. */
export const noSuchQuestion = (id: string, known: readonly string[]): Diagnostic =>
  say(
    'error',
    'no-such-question',
    `an answer is given to '${id}', which is not asked of these parts`,
    { path: `answers.${id}` },
    known.length === 0 ? 'Nothing is asked of them; leave it out.' : `Asked are: ${list(known)}.`,
  );

/** An answer by a number that the question does not have. */
export const noSuchChoice = (id: string, number: number, choices: number): Diagnostic =>
  say(
    'error',
    'no-such-choice',
    `the answer to '${id}' is ${number}, and it has the choices 1 to ${choices}`,
    { path: `answers.${id}` },
    'Give the number of the choice that is meant.',
  );

/** An answer that leaves no way beside the other answers. */
export const answersClash = (id: string, number: number): Diagnostic =>
  say(
    'error',
    'answers-clash',
    `no way in which the parts go together has choice ${number} of '${id}' together with the other answers`,
    { path: `answers.${id}` },
    'Take that answer out, and choose again among what the others leave.',
  );

/** A hint about a part that is not there. */
export const noSuchPart = (id: string, path: string, known: readonly string[]): Diagnostic =>
  say('error', 'no-such-part', `there is no part '${id}'`, { path }, `The parts are: ${list(known)}.`);

/** A hint about an edge that is not there, or that is no straight edge. */
export const noSuchEdge = (edge: string, path: string, of: readonly string[]): Diagnostic =>
  say(
    'error',
    'no-such-edge',
    `there is no straight edge '${edge}'`,
    { path },
    of.length === 0
      ? 'Edges are called after their part and contour, such as P1.c2/e0; the master lists them in order.'
      : `Edges there are: ${list(of)}.`,
  );

/** Two plates that fit each other by their curves do not touch where they stand. */
export const noTouch = (a: string, b: string): Diagnostic =>
  say(
    'warning',
    'no-touch',
    `parts ${a} and ${b} fit each other, but nothing of them touches where they stand, so that no mate was made`,
    { part: a },
    'Look at their slots: one may be drawn wider than 0.7 mm over the plate.',
  );

/** Clearance was drawn and was taken out. */
export const clearanceDrawn = (least: number, most: number, pairs: number): Diagnostic =>
  say(
    'note',
    'clearance-drawn',
    `${pairs} pair${pairs === 1 ? ' of parts has' : 's of parts have'} gaps of ${least.toFixed(3)} to ${most.toFixed(3)} mm from wall to face drawn in them; they were closed`,
    {},
    'A master is drawn without clearance; a job gives each joint its own.',
  );

/** Congruent parts have other holes, more of them than can be asked about. */
export const holesDiffer = (parts: readonly string[]): Diagnostic =>
  say(
    'warning',
    'holes-differ',
    `parts ${list(parts)} fit each other's places, and their holes are not the same: which stands where is not known`,
    { part: parts[0]! },
    'Check the picture; exchange their ids in the master where it is wrong.',
  );

/** The master as found has a fault that a refit or the assembly shows. */
export const foundFault = (of: Diagnostic, when: string): Diagnostic =>
  say(
    'warning',
    'found-fault',
    `${when}: ${of.message}`,
    of.locus,
    `${of.hint} The drawing may have this fault itself, or a hold, a mate or a mark was found wrong.`,
  );

/** A part of which nobody says how thick it is. */
export const thicknessMissing = (part: string): Diagnostic =>
  say(
    'error',
    'thickness-missing',
    `nothing says how thick part ${part} is`,
    { part },
    'Give the thickness that it was drawn for.',
  );

/** Reliefs were drawn and were taken out. */
export const reliefsDrawn = (count: number): Diagnostic =>
  say(
    'note',
    'reliefs-drawn',
    `${count} corner relief${count === 1 ? '' : 's'} drawn in the parts ${count === 1 ? 'was' : 'were'} taken out`,
    {},
    'A master has sharp corners; a job relieves those that need it, for its own cutter.',
  );

/** Walls of slots for a plate that leans touch nothing, so that they get no marks. */
export const leanUnmarked = (part: string, edges: readonly string[]): Diagnostic =>
  say(
    'warning',
    'lean-unmarked',
    `part ${part} leans, and edge${edges.length === 1 ? '' : 's'} ${list(edges)} of the slots that it passes through ${edges.length === 1 ? 'touches' : 'touch'} nothing of it: ${edges.length === 1 ? 'it does' : 'they do'} not follow other sheets`,
    { part, feature: edges[0]! },
    'Say the angle if the slot is drawn with clearance, or what the edge follows; or write marks with a normal into the master, as the reading stand among the examples has them.',
  );

export const badLean = (part: string, angle: number): Diagnostic =>
  say(
    'error',
    'bad-lean',
    `Part ${part} is said to lean at ${angle} degrees.`,
    { part, path: `leans.${part}` },
    'Give the angle to the plate that it passes, above 0 and at most 90 degrees.',
  );
