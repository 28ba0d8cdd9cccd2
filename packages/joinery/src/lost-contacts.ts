import type { Diagnostic } from '@haunch/model';
import { contactLost } from './diagnostics.js';
import type { Contact, Joinery } from './joinery.js';

const keyOf = (c: Contact): string => `${c.joint} ${c.part} ${c.edge} ${c.with} ${c.role}`;

/**
 * The contacts that a piece has at its master's own thicknesses and no longer has after a refit: an edge that
 * should have followed a plate and was left behind, mostly for want of a mark. Each is an error that names joint,
 * part and edge; the clearance of such a joint would be measured against nothing.
 */
export function lostContacts(drawn: Joinery, refitted: Joinery): Diagnostic[] {
  const kept = new Set(refitted.contacts.map(keyOf));
  const seen = new Set<string>();
  return drawn.contacts.flatMap((c) => {
    const key = keyOf(c);
    if (kept.has(key) || seen.has(key)) return [];
    seen.add(key);
    return [contactLost(c)];
  });
}
