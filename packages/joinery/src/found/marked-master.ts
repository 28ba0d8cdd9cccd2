import type { Diagnostic, FoundRecord, Master } from '@haunch/model';
import { type FoundMarks, findMarks, type MarkQuestion } from '../marks/find-marks.js';
import type { Asked } from './questions.js';

const sharesWords = (terms: Readonly<Record<string, number>>): string => {
  const all = Object.entries(terms).sort(([a], [b]) => (a < b ? -1 : 1));
  return all.length === 0
    ? 'it stays where it is'
    : `it goes with ${all.map(([id, s]) => `${+s.toFixed(4)} × the thickness of ${id}`).join(' and ')}`;
};

/** A master with its marks, the same with the questions asked that they leave open. */
export interface MarkedMaster extends FoundMarks {
  readonly said: readonly Diagnostic[];
}

const questionId = (q: MarkQuestion): string => `edge-${q.edge}`;

/** Finds a master's marks and asks, for each edge on two plates' faces, which it follows; the first where nobody says. */
export function markedMaster(
  master: Master,
  follows: FoundRecord['follows'],
  answers: Readonly<Record<string, number>>,
  asked: Asked,
): MarkedMaster {
  const byHand = new Map(Object.entries(follows));
  const first = findMarks(master, { byHand });
  const chosen = new Map<string, number>();
  for (const q of first.questions) {
    const id = questionId(q);
    const meant = asked.ask({
      id,
      about: 'edge',
      text: `Edge ${q.edge} lies on faces of several plates; which does it follow?`,
      choices: q.choices.map((c) => `${c.with}: ${sharesWords(c.terms)}`),
      taken: q.taken + 1,
      parts: [q.part],
    });
    if (meant !== null && Object.hasOwn(answers, id)) chosen.set(q.edge, meant);
  }
  const open = first.questions.filter((q) => !chosen.has(q.edge)).map((q) => q.said);
  const marks = chosen.size === 0 ? first : findMarks(master, { byHand, answers: chosen });
  return { ...marks, said: open };
}
