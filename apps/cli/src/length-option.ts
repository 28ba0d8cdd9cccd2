import { readLength } from '@haunch/model';
import { InvalidArgumentError } from 'commander';

/** Reads a length option such as `17.4mm` or `23/32"`; mm. */
export function lengthOption(text: string): number {
  const length = readLength(text);
  if (typeof length === 'number') return length;
  throw new InvalidArgumentError(length.problem);
}

/** Reads a length option that must be greater than zero. */
export function positiveLengthOption(text: string): number {
  const length = lengthOption(text);
  if (length > 0) return length;
  throw new InvalidArgumentError(`'${text}' must be greater than zero`);
}

/** Collects `NAME=LENGTH` options, such as `--part BR=17.3mm`. */
export function namedLengthOption(
  text: string,
  before: Readonly<Record<string, number>> = {},
): Record<string, number> {
  const at = text.lastIndexOf('=');
  if (at < 1) throw new InvalidArgumentError(`'${text}' is not NAME=LENGTH, such as BR=17.3mm`);
  return { ...before, [text.slice(0, at)]: positiveLengthOption(text.slice(at + 1)) };
}

/** Collects `--cutter 6mm` (every tool) and `--cutter 2=5mm` (tool 2). */
export function cutterOption(
  text: string,
  before: ReadonlyMap<number | 'any', number> = new Map(),
): Map<number | 'any', number> {
  const [, tool, size] = /^(?:T?(\d+)=)?(.+)$/i.exec(text) ?? [];
  return new Map(before).set(tool === undefined ? 'any' : Number(tool), positiveLengthOption(size ?? ''));
}

/** Collects lengths greater than zero of an option that may be repeated. */
export const lengthsOption = (text: string, before: readonly number[] = []): readonly number[] => [
  ...before,
  positiveLengthOption(text),
];
