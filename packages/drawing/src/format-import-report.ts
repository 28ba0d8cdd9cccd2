import type { DrawingImport } from './import-drawing.js';
import { REPAIR_KINDS, type Repair, type RepairKind } from './parts/repair.js';

const figure = (v: number, digits = 4): string => String(Number(v.toFixed(digits)) + 0);
const many = (n: number, one: string, more = `${one}s`): string => (n === 1 ? `1 ${one}` : `${n} ${more}`);
const place = (p: { readonly x: number; readonly y: number }): string =>
  `(${figure(p.x, 3)}, ${figure(p.y, 3)})`;

/** Lines of the file, the first few of many. */
function linesOf(entities: readonly { readonly line: number }[]): string {
  const lines = [...new Set(entities.map((e) => e.line))].sort((a, b) => a - b);
  const shown = lines.slice(0, 4).join(', ');
  return `${lines.length === 1 ? 'line' : 'lines'} ${shown}${lines.length > 4 ? ` and ${lines.length - 4} more` : ''}`;
}

/** The kinds of repairs that occur, each with its repairs, in the order in which they are made. */
export function repairsByKind(
  repairs: readonly Repair[],
): readonly { readonly kind: RepairKind; readonly repairs: readonly Repair[]; readonly most: number }[] {
  return (Object.keys(REPAIR_KINDS) as RepairKind[]).flatMap((kind) => {
    const own = repairs.filter((r) => r.kind === kind);
    if (own.length === 0) return [];
    return [{ kind, repairs: own, most: own.reduce((m, r) => Math.max(m, r.deviation), 0) }];
  });
}

/** One line that says what a repair did. */
export const repairLine = (r: Repair): string =>
  `${r.id}  at ${place(r.at)}, ${linesOf(r.entities)}, layer '${r.layer}'${r.deviation > 0 ? `, ${figure(r.deviation)} mm` : ''}`;

/** What was found, in one line for each kind of part. */
export function familyLines(read: DrawingImport): string[] {
  const byId = new Map(read.parts.map((p) => [p.id, p]));
  return read.families.map(({ parts, mirrored }) => {
    const first = byId.get(parts[0]!)!;
    const name = first.name === first.id ? first.id : `${first.id} '${first.name}'`;
    const count = parts.length + mirrored.length;
    const others = [...parts.slice(1), ...mirrored.map((id) => `${id} (turned over)`)];
    return `${count} × ${name}${others.length > 0 ? `: the same as ${others.join(', ')}` : ''}`;
  });
}

/**
 * The import report as plain text, for the person who drew the drawing: what was found, each repair with its name
 * and its place, what was left out, and what was not understood. Lines are those of the file, places in mm.
 */
export function formatImportReport(read: DrawingImport): string {
  const out: string[] = [];
  const say = (line = ''): void => void out.push(line);
  say(`${read.file}: ${many(read.parts.length, 'part')}, ${many(read.repairs.length, 'repair')}`);
  say(`Unit: ${read.unit.name}. ${read.unit.reason}`);
  say();
  say('PARTS');
  for (const line of familyLines(read)) say(`  ${line}`);
  if (read.parts.length === 0) say('  none');
  say();
  say('NOT UNDERSTOOD');
  if (read.unclear.length === 0) say('  nothing');
  for (const u of read.unclear)
    say(`  ${u.code.replace(/^read\//, '').replaceAll('-', ' ')} at ${place(u.at)}, ${linesOf(u.entities)}`);
  say();
  say('LEFT OUT');
  if (read.leftOut.length === 0) say('  nothing');
  for (const l of read.leftOut)
    say(
      `  ${l.why}: ${many(l.entities.length, 'entity', 'entities')} on layer '${l.layer}', ${linesOf(l.entities)}`,
    );
  say();
  say('REPAIRED');
  if (read.repairs.length === 0) say('  nothing');
  else say('  Any of these is undone by its name: keep what was drawn.');
  for (const { kind, repairs, most } of repairsByKind(read.repairs)) {
    say(
      `  ${kind}: ${REPAIR_KINDS[kind]}, ${many(repairs.length, 'time')}${most > 0 ? `, by at most ${figure(most)} mm` : ''}`,
    );
    for (const r of repairs) say(`    ${repairLine(r)}`);
  }
  if (read.kept.length > 0) {
    say();
    say('KEPT AS DRAWN, AS ASKED');
    for (const r of read.kept) say(`  ${repairLine(r)}`);
  }
  say();
  say('SAID');
  for (const d of read.diagnostics) say(`  ${d.level}: ${d.message} [${d.code}]`);
  if (read.diagnostics.length === 0) say('  nothing');
  return `${out.join('\n')}\n`;
}
