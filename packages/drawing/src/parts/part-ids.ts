const looksLikeInteger = (id: string): boolean => /^[+-]?\d+$/.test(id);

/** A name as a part's id: never empty, never like an integer, and not among those taken. */
export function partId(name: string, taken: ReadonlySet<string>): string {
  const plain = name.trim() === '' ? 'P' : looksLikeInteger(name.trim()) ? `P-${name.trim()}` : name.trim();
  let id = plain;
  for (let n = 2; taken.has(id); n++) id = `${plain}-${n}`;
  return id;
}
