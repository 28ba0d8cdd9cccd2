import type { Finding } from '@haunch/model';
import type { Judgement } from '../judgement.js';
import { flat, type Rule } from './rule.js';

/** Where the cutter is at a line: the nearest motion before it, or else after it. */
function placeOfLine(j: Judgement, line: number) {
  let best = j.stretches[0];
  for (const s of j.stretches) if (s.line <= line) best = s;
  return best?.to;
}

/** P01: what cannot be read cannot be believed. */
export const readable: Rule = {
  id: 'P01',
  title: 'The text reads without error, and in one way only',
  unit: 'errors',
  judge(j) {
    // What a line does must not hang on a switch that no text shows.
    const errors = j.reading.diagnostics.filter((d) => d.level === 'error' || d.code === 'nc/block-delete');
    const findings = errors.map((d): Finding => {
      const { line } = d.locus;
      const at = line === undefined ? undefined : placeOfLine(j, line);
      return {
        message: d.message,
        ...(line === undefined ? {} : { line }),
        ...(at === undefined ? {} : { ...j.place.at(at), at: flat(at) }),
      };
    });
    return { findings, margin: -errors.length };
  },
};
