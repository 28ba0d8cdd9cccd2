import type { Diagnostic, MasterPart } from '@haunch/model';
import { needsAnswer, noSuchChoice, noSuchQuestion } from './diagnostics.js';

/** Something that the drawing cannot tell, with its choices, numbered from 1. */
export interface MasterQuestion {
  readonly id: string;
  /**
   * Which way a piece goes together, which way up it stands, where a loose part belongs, which of two parts alike but for their holes stands
   * where, what of a plate stays when its thickness changes, which of two faces an edge follows.
   */
  readonly about: 'piece' | 'up' | 'loose' | 'holes' | 'hold' | 'edge';
  readonly text: string;
  readonly choices: readonly string[];
  /** The number of the choice that was taken for want of an answer; null where there is no master without one. */
  readonly taken: number | null;
  readonly parts: readonly string[];
  /** Where the parts would stand with each choice; there where they differ. */
  readonly standing?: readonly (readonly MasterPart[])[];
}

/** The questions of one piece of work: what was answered, what is still open, which answers belong to nothing. */
export class Asked {
  readonly #answers: Readonly<Record<string, number>>;
  readonly #open: MasterQuestion[] = [];
  readonly #used = new Map<string, number>();
  readonly #known: string[] = [];
  readonly #problems: Diagnostic[] = [];

  constructor(answers: Readonly<Record<string, number>>) {
    this.#answers = answers;
  }

  /** The place, from 0, of the choice that is meant; that of the usual one, or null, where nobody has answered. */
  ask(question: MasterQuestion): number | null {
    const { id, choices, taken } = question;
    this.#known.push(id);
    const answer = Object.hasOwn(this.#answers, id) ? this.#answers[id] : undefined;
    if (answer === undefined) {
      this.#open.push(question);
      return taken === null ? null : taken - 1;
    }
    if (!(Number.isInteger(answer) && answer >= 1 && answer <= choices.length)) {
      this.#problems.push(noSuchChoice(id, answer, choices.length));
      return taken === null ? null : taken - 1;
    }
    this.#used.set(id, answer);
    return answer - 1;
  }

  /** Whether somebody has answered a question, asked or not. */
  has(id: string): boolean {
    return Object.hasOwn(this.#answers, id);
  }

  /** An answer that cannot be heeded. */
  refuse(problem: Diagnostic): void {
    this.#problems.push(problem);
  }

  /** What is still open, in the order in which it was asked. */
  get open(): readonly MasterQuestion[] {
    return this.#open;
  }

  /** The answers that were heeded. */
  get answers(): Readonly<Record<string, number>> {
    return Object.fromEntries(this.#used);
  }

  /** The questions without an answer of which there must be one. */
  get blocking(): readonly Diagnostic[] {
    return this.#open
      .filter((q) => q.taken === null)
      .map((q) => needsAnswer(q.id, q.text, q.choices.length, q.parts[0]!));
  }

  /** Answers by numbers that there are not, and such as clash with others. */
  get refused(): readonly Diagnostic[] {
    return this.#problems;
  }

  /** Answers that are to no question that may be asked of these parts, whatever the other answers are. */
  straysAmong(parts: readonly string[]): readonly Diagnostic[] {
    const strays = Object.keys(this.#answers).filter(
      (id) => !this.#known.includes(id) && !mayBeAsked(id, parts),
    );
    return strays.map((id) => noSuchQuestion(id, this.#known));
  }

  /** Answers to questions that were not asked; known once everything was asked. */
  get strays(): readonly Diagnostic[] {
    const strays = Object.keys(this.#answers).filter((id) => !this.#known.includes(id));
    return strays.map((id) => noSuchQuestion(id, this.#known));
  }
}

/** Whether a question of this name may be asked of parts with these ids. */
function mayBeAsked(id: string, parts: readonly string[]): boolean {
  if (/^(?:piece|up)-\d+$/.test(id)) return true;
  const [, kind, of] = /^([a-z]+)-(.+)$/s.exec(id) ?? [];
  switch (kind) {
    case 'stands':
    case 'turned':
    case 'loose':
    case 'hold':
      return parts.includes(of!);
    case 'joint':
    case 'holes':
      return parts.some((a) => of!.startsWith(`${a}-`) && parts.includes(of!.slice(a.length + 1)));
    case 'edge':
      return parts.some((a) => of!.startsWith(`${a}.`) || of!.startsWith(`${a}/`));
    default:
      return false;
  }
}
