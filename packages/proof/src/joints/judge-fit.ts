import { type Fit, type FitProof, type Lean, passing, type Verdict } from '@haunch/model';
import type { AsCutBoard, AsCutItem } from '../as-cut-board.js';
import { lineOfProgram } from '../program-lines.js';
import { wantedContours } from '../wanted/wanted-contour.js';
import { standsInCorner } from './corner-check.js';
import { measureFloor } from './measure-floor.js';
import { findSide, linesOfSide, measureSide, type Side, type Spread } from './measure-wall.js';
import { measureWidth, type Width } from './measure-width.js';

/** An item on the board on which it is cut. */
export interface OnBoard {
  readonly board: AsCutBoard;
  readonly item: AsCutItem;
}

/** What one fit is judged with. */
export interface FitContext {
  readonly slot: OnBoard | undefined;
  readonly entering: OnBoard | undefined;
  /** Real thickness of the entering plate; undefined when nobody says it. */
  readonly thickness: number | undefined;
  /** Real thickness of the slotted plate; undefined when nobody says it. */
  readonly slotThickness: number | undefined;
  /** Edge ids of the slotted part on which this joint's fits meet. */
  readonly mates: ReadonlySet<string>;
}

/** Less clearance than this and the entering plate meets standing material, mm. */
const BLOCKED = -0.3;
/** Clearances are told apart to a tenth of a micrometre; less is the arithmetic's. */
const SAME = 1e-4;

interface Measured extends Spread {
  readonly width: number | null;
  readonly basis: FitProof['basis'];
  readonly standing: number;
  readonly sides: readonly Side[];
  readonly along?: Width['along'];
  readonly tenon?: Spread;
  readonly depth?: Spread;
  readonly plate?: NonNullable<FitProof['plate']>;
}

/** Figures are reported to the nanometre. */
const micro = (v: number): number => Math.round(v * 1e6) / 1e6 + 0;

const spread = ({ least, most }: Spread): Spread => ({ least: micro(least), most: micro(most) });

/** How the plates lean where they meet, with the slotted plate as thick as it is. */
function leanOf({ lean, local, contour }: Fit, c: FitContext): Lean | undefined {
  // The joint's own figure knows the spot; a pocket is as deep as it is, however thick its plate.
  const known =
    local !== undefined || c.slot?.item.part.pockets.some((p) => p.id === contour)
      ? undefined
      : c.slotThickness;
  return lean && { ...lean, height: known ?? lean.height };
}

function measureTwoWalls(fit: Fit, c: FitContext, one: Side, other: Side): Measured | null {
  const width = measureWidth(one, other, 'air');
  if (width === null) return null;
  const lean = leanOf(fit, c);
  const through = (between: number): number => passing(between, lean);
  if (fit.kind === 'thickness') {
    if (c.thickness === undefined) return null;
    return {
      least: through(width.least) - c.thickness,
      most: through(width.most) - c.thickness,
      width: width.least,
      basis: 'as cut',
      standing: 0,
      sides: [one, other],
      along: width.along,
      plate: { thickness: c.thickness, from: fit.local === undefined ? 'plate' : 'board map' },
    };
  }
  const [p, q] = enteringSides(fit, c);
  const partner = p && q ? measureWidth(p, q, 'material') : null;
  // As drawn, the partner is as much narrower than the slot as is wanted.
  const drawn = passing(width.wanted, fit.lean) - fit.wanted;
  const { least, most } = partner ?? { least: drawn, most: drawn };
  return {
    least: through(width.least) - most,
    most: through(width.most) - least,
    width: width.least,
    basis: partner ? 'as cut' : 'partner as drawn',
    standing: 0,
    sides: [one, other],
    along: width.along,
    ...(partner ? { tenon: { least: partner.least, most: partner.most } } : {}),
  };
}

const enteringSides = (fit: Fit, { entering }: FitContext): (Side | undefined)[] =>
  fit.enteringEdges.map((tag) => (entering ? findSide(entering.board, entering.item, tag) : undefined));

/** One wall: what is wanted there and how far it, and the edge that meets it, are off. */
function measureOne(fit: Fit, c: FitContext, off: Spread, sides: readonly Side[]): Measured {
  const meets = fit.enteringEdges.length > 0;
  const partner = enteringSides(fit, c)[0];
  const its = partner ? measureSide(partner) : { least: 0, most: 0 };
  // A wall that leans comes nearer to the plate by the sine of what it is off in its own plane.
  const slope = fit.lean ? Math.sin(fit.lean.angle) : 1;
  return {
    least: fit.wanted + slope * off.least + its.least,
    most: fit.wanted + slope * off.most + its.most,
    width: null,
    basis: meets && !partner ? 'partner as drawn' : 'as cut',
    standing: 0,
    sides,
  };
}

function measure(fit: Fit, c: FitContext): Measured | null {
  if (c.slot === undefined) return null;
  const { board, item } = c.slot;
  if (fit.walls.length === 1 && fit.walls[0] === `${fit.contour}/floor`) {
    const pocket = wantedContours(item.part, board.top).find((w) => w.id === fit.contour && w.floor !== null);
    const depth = pocket && measureFloor(board, pocket);
    if (!pocket || !depth) return null;
    const wanted = board.top - pocket.floor!;
    return { ...measureOne(fit, c, { least: depth.least - wanted, most: depth.most - wanted }, []), depth };
  }
  const sides = fit.walls.map((tag) => findSide(board, item, tag, fit.contour));
  const [one, other] = sides;
  if (!one || (fit.walls.length > 1 && !other) || one.levels.length === 0) return null;
  const measured = other ? measureTwoWalls(fit, c, one, other) : measureOne(fit, c, measureSide(one), [one]);
  if (measured === null) return null;
  let standing = 0;
  fit.walls.forEach((tag, i) => {
    standing = Math.max(standing, standsInCorner(sides[i]!, tag, c.mates));
  });
  return { ...measured, standing };
}

function verdictOf(fit: Fit, m: Measured): Verdict {
  if (m.least < BLOCKED || fit.wanted - m.standing < BLOCKED) return 'blocked';
  if (m.least < fit.window[0] - SAME) return 'tight';
  if (m.most > fit.window[1] + SAME) return 'slack';
  return 'as wanted';
}

/**
 * Judges one fit on the parts as cut. A lone wall's clearance is what is wanted plus how far the wall (and the edge
 * that meets it) is off: the entering plate is taken in its drawn place, which already follows its real thickness.
 */
export function judgeFit(fit: Fit, c: FitContext): FitProof {
  const m = measure(fit, c);
  const lines = m ? [...new Set(m.sides.flatMap(linesOfSide))].sort((a, b) => a - b) : [];
  const programs = c.slot?.board.programs;
  const told = programs && lines.map((l) => lineOfProgram(programs, l));
  return {
    fit: fit.id,
    kind: fit.kind,
    slotPart: fit.slotPart,
    enteringPart: fit.enteringPart,
    wanted: fit.wanted,
    least: m ? micro(m.least) : null,
    most: m ? micro(m.most) : null,
    width: m?.width == null ? null : micro(m.width),
    standing: m ? micro(m.standing) : 0,
    verdict: m ? verdictOf(fit, m) : 'unknown',
    lines: told?.map((l) => l.line) ?? lines,
    ...(told ? { programs: told.map((l) => l.program) } : {}),
    basis: m?.basis ?? 'partner as drawn',
    ...(m?.along && m.along.length > 0
      ? { along: m.along.map(({ at, width }) => ({ at: micro(at), width: micro(width) })) }
      : {}),
    ...(m?.tenon ? { tenon: spread(m.tenon) } : {}),
    ...(m?.depth ? { depth: spread(m.depth) } : {}),
    ...(m?.plate ? { plate: m.plate } : {}),
  };
}
