/** Addresses within the page: what a link to a place of a screen looks like, and what it says. */

/** The address of a line of a program, by the name of its file. */
export const lineAddress = (file: string, line: number): string =>
  `#program/${encodeURIComponent(file)}/${line}`;

/** The address of a joint in the proof. */
export const jointAddress = (joint: string): string => `#proof/${encodeURIComponent(joint)}`;

/** The address of a joint where the piece is put together. */
export const assemblyAddress = (joint: string): string => `#assembly/${encodeURIComponent(joint)}`;

/** What an address says after its screen, in order; what cannot be read is left as it is. */
export const placesOf = (hash: string): readonly string[] =>
  hash
    .replace(/^#/, '')
    .split('/')
    .slice(1)
    .map((p) => {
      try {
        return decodeURIComponent(p);
      } catch {
        return p;
      }
    });
