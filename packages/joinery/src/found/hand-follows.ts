import type { Diagnostic, FoundRecord, Master } from '@haunch/model';
import { marksOf } from '../loop.js';
import { outlineId } from '../parts-of-master.js';
import { plateOf } from '../plate.js';
import { noSuchEdge, noSuchPart } from './diagnostics.js';

/** What a person says edges follow, where it names edges or parts that there are not. */
export function handProblems(master: Master, follows: FoundRecord['follows']): Diagnostic[] {
  const ids = master.parts.map((p) => p.id);
  const edges = new Map(master.parts.map((p) => [p.id, plateOf(p).edges.map((e) => e.tag)]));
  return Object.entries(follows).flatMap(([edge, terms]) => {
    const path = `found.follows.${edge}`;
    const strangers = Object.keys(terms).filter((id) => !ids.includes(id));
    const problems = strangers.map((id) => noSuchPart(id, path, ids));
    if ([...edges.values()].some((own) => own.includes(edge))) return problems;
    const near = ids.find((id) => edge.startsWith(`${id}.`));
    return [...problems, noSuchEdge(edge, path, near === undefined ? [] : edges.get(near)!)];
  });
}

/**
 * What a person has changed by hand in the marks of a found master: edges whose marks are not those of the record, with
 * the shares of thicknesses that the marks now on them have. Together with the record's own `follows`.
 */
export function handFollows(master: Master): FoundRecord['follows'] {
  const record = master.found;
  if (!record) return {};
  const marks = new Map(master.marks.map((m) => [m.id, m]));
  const known = new Map<string, string[]>();
  for (const { edge, mark } of record.reasons)
    known.set(edge, [...(known.get(edge) ?? []), ...(mark === null ? [] : [mark])]);
  const changed: FoundRecord['follows'] = {};
  for (const p of master.parts)
    for (const [id, loop] of [
      [outlineId(p.id), p.outline] as const,
      ...[...p.through, ...p.pockets].map((c) => [c.id, c.loop] as const),
    ])
      loop.segments.forEach((s, k) => {
        const edge = `${id}/e${k}`;
        const on = marksOf(s.on);
        const before = known.get(edge) ?? [];
        if (s.centre || (on.length === before.length && on.every((m) => before.includes(m)))) return;
        const own = on.find((m) => !before.includes(m)) ?? on[0];
        changed[edge] = { ...(own === undefined ? {} : (marks.get(own)?.terms ?? {})) };
      });
  return { ...record.follows, ...changed };
}
