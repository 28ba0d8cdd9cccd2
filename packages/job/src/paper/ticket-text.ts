import type { PaperData, PaperItem, PaperSide } from './paper-data.js';

/** What a part's ticket says. */
export interface TicketText {
  readonly item: string;
  readonly name: string;
  readonly board: string;
  readonly job: string;
  /** Which face lay up on the machine, and which one is seen. */
  readonly face: string;
  /** The parts that it joins. */
  readonly mates: readonly string[];
  /** What its code holds: a line for each of these. */
  readonly code: string;
}

/** A code holds no more bytes than this, so that its modules are large enough on a small label. */
const CODE_BYTES = 170;

const bytes = (text: string): number => new TextEncoder().encode(text).length;

/** A text cut off with an ellipsis so that it has no more letters than `most`. */
const cut = (text: string, most: number): string => {
  const letters = [...text];
  return letters.length <= most
    ? text
    : `${letters
        .slice(0, most - 1)
        .join('')
        .trimEnd()}…`;
};

/** The faces in words: a part's own, and where the seen one was. */
function faceWords({ cutFace, showFace }: PaperItem): string {
  if (showFace === null) return `${cutFace} was up`;
  return showFace === cutFace ? `${cutFace} was up, the seen face` : `${cutFace} was up, ${showFace} is seen`;
}

/**
 * The lines of a code: part, name, job, board, face, mates. What would make it too long is cut off with an ellipsis, the part and its
 * board last: these find all else in the report.
 */
function codeOf(t: Omit<TicketText, 'code'>): string {
  const lines = (name: number, job: number, mates: number): string =>
    [
      t.item,
      cut(t.name, name),
      cut(t.job, job),
      `board ${t.board}`,
      t.face,
      ...(t.mates.length === 0
        ? []
        : [`joins ${t.mates.slice(0, mates).join(', ')}${mates < t.mates.length ? ', …' : ''}`]),
    ].join('\n');
  for (const [name, job, mates] of [
    [60, 60, 40],
    [40, 40, 20],
    [30, 30, 12],
    [24, 20, 8],
    [16, 12, 5],
    [8, 8, 3],
  ] as const) {
    const text = lines(name, job, mates);
    if (bytes(text) <= CODE_BYTES) return text;
  }
  let least = `${cut(t.item, 40)}\nboard ${cut(t.board, 24)}`;
  while (bytes(least) > CODE_BYTES) least = [...least].slice(0, -1).join('');
  return least;
}

/** The parts that each part joins, by the job's joints. */
export function matesOf({ report }: PaperData): ReadonlyMap<string, readonly string[]> {
  const mates = new Map<string, Set<string>>();
  const add = (a: string, b: string): void => void (mates.get(a) ?? mates.set(a, new Set()).get(a)!).add(b);
  for (const j of report.joints) {
    add(j.slotPart, j.enteringPart);
    add(j.enteringPart, j.slotPart);
  }
  return new Map([...mates].map(([id, of]) => [id, [...of].sort()]));
}

/** Sides on which parts come out of their board: all but those that are cut first of two. */
export const lastSides = ({ sides }: PaperData): PaperSide[] => sides.filter((s) => s.side !== 'first');

/** The tickets of a job, board by board. */
export function ticketTexts(data: PaperData): TicketText[] {
  const mates = matesOf(data);
  const names = new Map(data.report.parts.map((p) => [p.id, p.name]));
  return lastSides(data).flatMap((side) =>
    side.items.map((i): TicketText => {
      const name = names.get(i.part) ?? '';
      const text = {
        item: i.item,
        name: name === i.item ? '' : name,
        board: side.board,
        job: data.report.title,
        face: faceWords(i),
        mates: mates.get(i.part) ?? [],
      };
      return { ...text, code: codeOf(text) };
    }),
  );
}
