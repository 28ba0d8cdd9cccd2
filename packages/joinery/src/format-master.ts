import type { Master } from '@haunch/model';

/** Keys whose values stand on one line each, as in a drawing list: one segment, mark, hole or step a line. */
const ROWS = new Set(['marks', 'segments', 'holes', 'assembly', 'reasons', 'free']);

/** A row longer than this is spread over several lines. */
const LONGEST_ROW = 160;

const line = (value: unknown): string => {
  if (Array.isArray(value)) return `[${value.map(line).join(', ')}]`;
  if (typeof value === 'object' && value !== null) {
    const entries = Object.entries(value).filter(([, v]) => v !== undefined);
    return `{${entries.map(([k, v]) => `${JSON.stringify(k)}: ${line(v)}`).join(', ')}}`;
  }
  return JSON.stringify(value);
};

const isFlat = (value: unknown): boolean => typeof value !== 'object' || value === null;

function layOut(value: unknown, indent: string, key: string): string {
  if (isFlat(value) || key === 'frame') return line(value);
  const inner = `${indent} `;
  if (Array.isArray(value)) {
    if (value.length === 0 || value.every(isFlat)) return line(value);
    const items = value.map((v) => {
      const row = ROWS.has(key) ? line(v) : undefined;
      return row !== undefined && row.length <= LONGEST_ROW ? row : layOut(v, inner, '');
    });
    return `[\n${items.map((i) => `${inner}${i}`).join(',\n')}\n${indent}]`;
  }
  const entries = Object.entries(value as object).filter(([, v]) => v !== undefined);
  if (entries.length === 0) return '{}';
  const items = entries.map(([k, v]) => `${inner}${JSON.stringify(k)}: ${layOut(v, inner, k)}`);
  return `{\n${items.join(',\n')}\n${indent}}`;
}

/**
 * A master as text in a stable layout, one segment, mark, hole and step a line, so that two of them compare
 * line by line. Guarantees that `readMaster` gives the same value back. Same value, same bytes.
 */
export const formatMaster = (master: Master): string => `${layOut(master, '', '')}\n`;
