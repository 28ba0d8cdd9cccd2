/** Gives the content of a file named in the job, or nothing when it is not there. */
export type SourceReader = (name: string) => string | Uint8Array | undefined;

/** A file's content as text. */
export const textOf = (content: string | Uint8Array): string =>
  typeof content === 'string' ? content : new TextDecoder().decode(content);
