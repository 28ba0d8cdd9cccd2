import type { Finding } from '@haunch/model';
import { longestTab, TAB_SPARE } from '../bridges.js';
import { missingCuts } from '../missing-cuts.js';
import { trimFaults } from '../missing-trims.js';
import { atSpot, flat, lineAt, mm, type Rule, worstSpots } from './rule.js';

/** P09: everything that shall go is cut, to its depth and through. */
export const uncut: Rule = {
  id: 'P09',
  title: 'Every contour is cut to its full depth',
  unit: 'mm',
  judge(j) {
    const findings: Finding[] = [];
    let margin = Math.min(j.tolerance, ...j.items.map((i) => i.judged.roomOut));
    const longest = longestTab(j.input.holding);
    for (const { judged, kerf, slugs, under } of j.items) {
      const name = judged.item.item;
      const missing = missingCuts(judged.contours, j.field, j.tolerance).filter(
        (m) => m.contour.floor === null,
      );
      for (const { contour, level, at } of missing) {
        margin = Math.min(margin, j.bottom - level.high);
        const how =
          level.high >= j.top - 1e-6
            ? 'is not cut'
            : `is not cut below ${mm(j.top - level.high)} mm from the top`;
        const line = lineAt(j, at, level);
        findings.push({
          message: `${contour.id} of ${name} ${how}.`,
          ...(line === undefined ? {} : { line }),
          ...j.place.at(at, { item: name, contour: contour.id }),
          at: flat(at),
        });
      }
      const gone = new Set(missing.map((m) => m.contour.id));
      if (!judged.cut && !gone.has(judged.contours[0]!.id) && judged.piece !== null)
        findings.push({
          message: `${name} is not cut free above its tabs.`,
          ...j.place.at(judged.bridges[0]?.at ?? judged.inside, {
            item: name,
            contour: judged.contours[0]!.id,
          }),
          ...(judged.bridges[0] === undefined ? {} : { at: flat(judged.bridges[0].at) }),
        });
      for (const s of worstSpots(
        judged.excesses.filter((e) => !gone.has(e.contour.id)),
        2 * j.mostRadius,
      ))
        findings.push(
          atSpot(j, name, s, `${mm(s.amount)} mm of material are left on ${name} at ${s.contour.id}.`),
        );
      const told = new Set<string>();
      // At half a tab's height first; then at the underside, where a skin stays that is lower than a tab.
      for (const k of [kerf, ...slugs.map((g) => g.kerf), under, ...slugs.map((g) => g.under)]) {
        const long = k.any.filter((b) => b.length > longest);
        if (gone.has(k.contour.id) || told.has(k.contour.id)) continue;
        for (const b of long) {
          margin = Math.min(margin, longest - b.length);
          const line = lineAt(j, b.at, j.levels[0]!);
          findings.push({
            message: `${k.contour.id} of ${name} is not cut through over ${mm(b.length)} mm; a tab is ${mm(j.input.holding.tabWidth)} mm wide.`,
            ...(line === undefined ? {} : { line }),
            ...j.place.at(b.at, { item: name, contour: k.contour.id }),
            at: flat(b.at),
            amount: b.length,
          });
        }
        if (long.length > 0) told.add(k.contour.id);
      }
    }
    for (const f of trimFaults(j.input.board, j.field, {
      tabTop: j.bottom + j.input.holding.tabHeight + TAB_SPARE,
      longest,
      // Of a machine that is not true only parts are judged where they are; a sheet's far end lies beside its place.
      tolerance: j.input.machine.distortion ? Infinity : j.tolerance,
    })) {
      const { along, at } = f.trim;
      const line = lineAt(j, f.at, f.level);
      const [name, where] = [`trim-${f.index + 1}`, `along ${along.toUpperCase()} at ${mm(at)} mm`];
      const deep = f.level.high >= j.top - 1e-6 ? '' : ` below ${mm(j.top - f.level.high)} mm from the top`;
      findings.push({
        message:
          f.kind === 'beside'
            ? `The edge of ${name} ${where} lies ${mm(f.off)} mm beside its place.`
            : `${name} ${where} is not cut${deep}${f.whole ? '' : ` over ${mm(f.length)} mm`}.`,
        ...(line === undefined ? {} : { line }),
        at: flat(f.at),
        ...(f.kind === 'beside' ? { amount: f.off } : {}),
      });
    }
    return { findings, margin };
  },
};
