/** A cell that a spreadsheet would take for a formula is told from one by an apostrophe, as spreadsheets themselves write it. */
const FORMULA = /^[=+\-@\t\r]/;

const cell = (v: string | number): string => {
  if (typeof v === 'number') return String(v);
  const safe = FORMULA.test(v) && !/^-?\d+(\.\d+)?$/.test(v) ? `'${v}` : v;
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
};

/** Rows as comma-separated values (RFC 4180): CRLF, quotes where needed, a point in figures. */
export const csv = (head: readonly string[], rows: readonly (readonly (string | number)[])[]): string =>
  [head, ...rows].map((r) => `${r.map(cell).join(',')}\r\n`).join('');
