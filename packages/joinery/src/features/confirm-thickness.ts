import type { Diagnostic, Locus } from '@haunch/model';
import { figure } from './candidate.js';
import { noThickness, severalThicknesses, thicknessNotConfirmed } from './diagnostics.js';
import type { ThicknessEvidence, ThicknessFinding } from './find-thickness.js';

/** So many candidates are named. */
const NAMED = 4;

/** A thickness with what speaks for it, in words: `12.1 mm (8 slots, 16 steps)`. */
export const evidence = (c: ThicknessEvidence): string =>
  `${figure(c.value)} mm (${[
    c.slots > 0 ? `${c.slots} slot${c.slots > 1 ? 's' : ''}` : '',
    c.steps > 0 ? `${c.steps} step${c.steps > 1 ? 's' : ''}` : '',
    c.stated.length > 0 ? 'stated' : '',
  ]
    .filter((s) => s !== '')
    .join(', ')})`;

const place = (file: string | undefined): Locus => (file === undefined ? {} : { file });

/** What a finding says in words: nothing where one thickness is well ahead. */
export function thicknessNotes(finding: ThicknessFinding, file?: string): Diagnostic[] {
  if (finding.verdict === 'likely') return [];
  if (finding.verdict === 'several')
    return [severalThicknesses(finding.candidates.slice(0, NAMED).map(evidence), place(file))];
  const { otherUnit } = finding;
  const hint =
    otherUnit === null
      ? null
      : `Read in ${otherUnit.unit} it would speak for ${figure(otherUnit.value)} mm (${otherUnit.support} places); state the unit.`;
  return [noThickness(hint, place(file))];
}

/** The refusal to resize on a likelihood alone, with the candidates for a person to choose from. */
export const thicknessUnconfirmed = (finding: ThicknessFinding, file?: string): Diagnostic =>
  thicknessNotConfirmed(finding.candidates.slice(0, NAMED).map(evidence), place(file));
