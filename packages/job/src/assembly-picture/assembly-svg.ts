import type { Clip } from '@haunch/geometry';
import type { Master } from '@haunch/model';
import { offsetsApart } from './apart.js';
import { cardSvg } from './card.js';
import { drawPiece } from './draw-piece.js';
import { movedSolid, type Solid, solidsOfMaster } from './plate-solid.js';
import { along } from './vec.js';
import { type Standpoint, viewFrom } from './view.js';

/** How a piece is to be shown. */
export interface AssemblyPictureOptions {
  /** 0: together. 1: every plate moved back along the assembly's moves by their full travel. */
  readonly explode?: number;
  /** Where the eye stands, from the right of the front and above if nothing is said: radians, X right, Y rear, Z up. */
  readonly from?: Standpoint;
  /** The picture's width in px; its height follows from the piece. */
  readonly width?: number;
  /** The master's title if nothing is said. */
  readonly title?: string;
  /** Whether the parts' ids are written in where there is room; yes if nothing is said. */
  readonly labels?: boolean;
}

/** Shows the tops of shelves and the insides, and hides little behind the right end. */
const FROM: Standpoint = { azimuth: 0.48, elevation: 0.37 };
/** The least width in which margins and letters have room, px. */
const LEAST_WIDTH = 200;

type Checked = Required<Omit<AssemblyPictureOptions, 'title'>>;

function checked(options: AssemblyPictureOptions, usual: Pick<Checked, 'explode' | 'width'>): Checked {
  const { explode, width, from, labels } = { from: FROM, labels: true, ...usual, ...options };
  if (!(explode >= 0 && explode < Infinity))
    throw new RangeError(`assembly picture: explode ${explode} is not 0 or more`);
  if (!(width >= LEAST_WIDTH && width < Infinity))
    throw new RangeError(`assembly picture: width ${width} is not ${LEAST_WIDTH} px or more`);
  return { explode, width, from, labels };
}

function movedApart(master: Master, solids: readonly Solid[], explode: number): readonly Solid[] {
  if (explode === 0) return solids;
  const offsets = offsetsApart(master, solids);
  return solids.map((s) => movedSolid(s, along([0, 0, 0], explode, offsets.get(s.id)!)));
}

const partList = (master: Master): string => master.parts.map((p) => `${p.id} ${p.name}`).join(', ');

/**
 * A picture of a piece as SVG text, on a card of its own colour: all its plates as solids in a parallel projection,
 * hidden surfaces and lines taken out exactly, curves within 0.08 mm. `explode` undoes the assembly from its last
 * step on; what was taken off before and stands in the way is pushed along. 720 px wide if nothing is said.
 * Guarantees: numbers are rounded to 0.1 px, all text is escaped, same master and options, same bytes.
 * @throws RangeError when `explode` is negative, the width is below 200 px, or there is no such standpoint.
 */
export function assemblySvg(master: Master, clip: Clip, options: AssemblyPictureOptions = {}): string {
  const { explode, from, width, labels } = checked(options, { explode: 0, width: 720 });
  const view = viewFrom(from);
  const solids = movedApart(master, solidsOfMaster(master, clip), explode);
  return cardSvg({
    title: options.title ?? master.title,
    description: `${explode === 0 ? 'Put together' : 'Moved apart along the moves of its assembly'}: ${partList(master)}.`,
    pieces: [{ drawn: drawPiece(view, solids, clip, explode === 0) }],
    width,
    labels,
  });
}

/**
 * The same piece put together and, beside it at the same scale, moved apart by `explode` (0.85 if nothing is said);
 * 1400 px wide if nothing is said. Otherwise as {@link assemblySvg}.
 * @throws RangeError as {@link assemblySvg}.
 */
export function assemblyPairSvg(master: Master, clip: Clip, options: AssemblyPictureOptions = {}): string {
  const { explode, from, width, labels } = checked(options, { explode: 0.85, width: 1400 });
  const view = viewFrom(from);
  const solids = solidsOfMaster(master, clip);
  return cardSvg({
    title: options.title ?? master.title,
    description: `Put together, and beside it moved apart along the moves of its assembly: ${partList(master)}.`,
    pieces: [
      { drawn: drawPiece(view, solids, clip, true), caption: 'put together' },
      { drawn: drawPiece(view, movedApart(master, solids, explode), clip, false), caption: 'moved apart' },
    ],
    width,
    labels,
  });
}
