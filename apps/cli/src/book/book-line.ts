/** Prints a line of the answer. */
export const line = (text = ''): void => void process.stdout.write(`${text}\n`);

export const counted = (n: number, one: string, many = `${one}s`): string => `${n} ${n === 1 ? one : many}`;

/** A list of names in a sentence, or what to say when there is none. */
export const named = (names: readonly string[], none: string): string =>
  names.length === 0 ? none : names.slice(0, 12).join(', ') + (names.length > 12 ? ' …' : '');
