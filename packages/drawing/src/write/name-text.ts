/** Text with every character beyond ASCII as a `\U+xxxx` escape, so that no code page can spoil it; one line. */
export const asciiText = (text: string): string =>
  text
    .replace(/\p{Cc}+/gu, ' ')
    .replace(/\\(?=U\+)/g, '\\U+005C')
    .replace(/%(?=%)/g, '%%037')
    .replace(/[^\x20-\x7e]/g, (c) => `\\U+${c.charCodeAt(0).toString(16).toUpperCase().padStart(4, '0')}`);

/**
 * Layer names as the format allows them: `< > / \ " : ; ? * | = , \`` become `_`, and names that would then
 * be the same are numbered. The order of the names decides.
 */
export function layerNames(names: readonly string[]): ReadonlyMap<string, string> {
  const out = new Map<string, string>();
  const taken = new Set<string>();
  for (const name of names) {
    if (out.has(name)) continue;
    const plain = name.replace(/[<>/\\":;?*|=,`\p{Cc}]/gu, '_').trim() || '_';
    let free = plain;
    for (let n = 2; taken.has(free.toLowerCase()); n++) free = `${plain}-${n}`;
    taken.add(free.toLowerCase());
    out.set(name, asciiText(free));
  }
  return out;
}
