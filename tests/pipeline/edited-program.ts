import type { MadeBoard } from '@haunch/job';

/** A program's lines, with the workingstep each belongs to. */
export function linesOfStep(text: string, feature: string): { lines: string[]; from: number; to: number } {
  const lines = text.split('\n');
  const from = lines.findIndex((l) => new RegExp(`^\\(\\S+ ${feature.replaceAll('.', '\\.')} `).test(l));
  if (from < 0) throw new Error(`no workingstep for ${feature}`);
  const next = lines.findIndex((l, i) => i > from && /^\(\S+\/\d+ /.test(l));
  return { lines, from, to: next < 0 ? lines.length : next };
}

/** The coordinate that was last said for an axis before a line (from 1). */
export function wordBefore(lines: readonly string[], line: number, letter: string): string {
  for (let i = line - 1; i >= 0; i--) {
    const m = new RegExp(`${letter}(-?[\\d.]+)`).exec(lines[i]!);
    if (m) return m[1]!;
  }
  throw new Error(`no ${letter} before line ${line}`);
}

/**
 * The program with one straight, axis-parallel wall of a cut moved by `by` mm: every word of that value within
 * the workingstep, so that the text stays legal. Only walls without arcs at their ends can be moved so.
 */
export function wallMoved(board: MadeBoard, feature: string, line: number, by: number): string {
  const { lines, from, to } = linesOfStep(board.program.text, feature);
  const along = /^Y/.test(lines[line - 1]!) ? 'X' : 'Y';
  const value = wordBefore(lines, line, along);
  const moved = String(Math.round((Number(value) + by) * 1e4) / 1e4);
  const word = new RegExp(`${along}${value.replaceAll('.', '\\.')}(?![\\d.])`, 'g');
  return lines.map((l, i) => (i >= from && i < to ? l.replace(word, `${along}${moved}`) : l)).join('\n');
}
