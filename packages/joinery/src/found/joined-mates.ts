import type { Diagnostic, MasterMate, MasterPart } from '@haunch/model';
import type { FoundMate } from '../mates/find-mates.js';
import { plateOf } from '../plate.js';
import { noTouch } from './diagnostics.js';
import { mateOfContacts } from './mate-of-contacts.js';

/** Mates as a master has them, and how sure each is. */
export interface JoinedMates {
  readonly mates: readonly MasterMate[];
  readonly certainty: Readonly<Record<string, number>>;
}

/** The mates of parts in their places: how each pair is joined where it touches; pairs that do not touch are named. */
export function joinedMates(
  parts: readonly MasterPart[],
  pairs: readonly MeetingPair[],
  said: Diagnostic[],
): JoinedMates {
  const plates = parts.map(plateOf);
  const mates: MasterMate[] = [];
  const certainty: Record<string, number> = {};
  for (const { at, certainty: sure } of pairs) {
    const [i, k] = at;
    const m = mateOfContacts([parts[i]!, plates[i]!], [parts[k]!, plates[k]!]);
    if (!m) {
      said.push(noTouch(parts[i]!.id, parts[k]!.id));
      continue;
    }
    const id = `M${mates.length + 1}-${m.slotPart}-${m.enteringPart}`;
    mates.push({ id, ...m });
    certainty[id] = sure;
  }
  return { mates, certainty };
}

/** Two parts that meet, by their places in a list. */
export interface MeetingPair {
  readonly at: readonly [number, number];
  readonly certainty: number;
}

/** The pairs of parts that meet, by their places in a list. */
export function pairsOf(mates: readonly FoundMate[], parts: readonly MasterPart[]): MeetingPair[] {
  const place = new Map(parts.map((p, i) => [p.id, i]));
  return mates.map((m) => ({
    at: [place.get(m.parts[0])!, place.get(m.parts[1])!],
    certainty: m.certainty,
  }));
}
