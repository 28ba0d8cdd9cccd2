import { InvalidArgumentError } from 'commander';

/** Collects `QUESTION=NUMBER` options, such as `--answer piece-0=2`. */
export function answerOption(
  text: string,
  before: Readonly<Record<string, number>> = {},
): Record<string, number> {
  const [, question, number] = /^(.+)=([1-9]\d{0,5})$/.exec(text) ?? [];
  if (question === undefined)
    throw new InvalidArgumentError(`'${text}' is not QUESTION=NUMBER, such as piece-0=2`);
  return { ...before, [question]: Number(number) };
}

type Follows = Readonly<Record<string, Readonly<Record<string, number>>>>;

const FORM =
  'EDGE=PART, EDGE=PART:SHARE,… or EDGE=nothing, such as P1.c2/e0=P3, P1.c2/e0=P3:0.5,P4:-1 or P1.c2/e0=nothing';

/** Collects what edges follow: `--follow P1.c2/e0=P3:0.5`; a share of 1 may be left out. */
export function followOption(text: string, before: Follows = {}): Follows {
  const at = text.lastIndexOf('=');
  if (at < 1 || at === text.length - 1) throw new InvalidArgumentError(`'${text}' is not ${FORM}`);
  const [edge, terms] = [text.slice(0, at), text.slice(at + 1)];
  if (terms === 'nothing') return { ...before, [edge]: {} };
  const shares = terms.split(',').map((t): [string, number] => {
    const [, part, share] = /^(.+?)(?::([^:]*))?$/.exec(t) ?? [];
    const number = share === undefined ? 1 : Number(share);
    if (part === undefined || share === '' || !Number.isFinite(number))
      throw new InvalidArgumentError(`'${text}' is not ${FORM}`);
    return [part, number];
  });
  return { ...before, [edge]: Object.fromEntries(shares) };
}

/** Collects the angles at which parts lean: `--lean P3=65`, in degrees. */
export function leanOption(
  text: string,
  before: Readonly<Record<string, number>> = {},
): Record<string, number> {
  const at = text.lastIndexOf('=');
  const [part, figure] = [text.slice(0, at), text.slice(at + 1).replace(/(?:°|deg)$/, '')];
  const angle = Number(figure);
  if (at < 1 || figure.trim() === '' || !Number.isFinite(angle))
    throw new InvalidArgumentError(`'${text}' is not PART=DEGREES, such as P3=65`);
  return { ...before, [part]: angle };
}
