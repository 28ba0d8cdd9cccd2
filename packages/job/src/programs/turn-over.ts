import { circleRing, counterClockwise, type Motion, moveRing, ringBounds, STAY } from '@haunch/geometry';
import {
  type Board,
  type Joint,
  type JointProof,
  movePart,
  type Part,
  type Proof,
  type RuleResult,
} from '@haunch/model';
import { isWhole } from '../board-outline.js';
import type { LaidBoard, LaidJob, PlacedItem } from '../lay-job.js';

const flipped = (face: Part['cutFace']): Part['cutFace'] => (face === 'n+' ? 'n-' : 'n+');

const underPockets = ({ pockets, cutFace }: Part): Part['pockets'] =>
  pockets.filter((p) => p.face !== cutFace);
const underHoles = ({ holes, cutFace }: Part): Part['holes'] =>
  holes.filter((h) => h.depth !== 'through' && h.face !== cutFace);

const isTurned = ({ board, items }: LaidBoard): boolean =>
  board.turnOver !== undefined &&
  items.some(({ part }) => underPockets(part).length + underHoles(part).length > 0);

/** How a sheet's points move when it is turned over about its middle line along an axis. mm */
export function turnMotion({ outline }: Board, axis: 'x' | 'y'): Motion {
  const { minX, minY, maxX, maxY } = ringBounds(outline);
  return axis === 'y'
    ? { ...STAY, mirror: true, dx: minX + maxX }
    : { mirror: true, turn: Math.PI, dx: 0, dy: minY + maxY };
}

/** What is cut on the second side: all but the recesses of the face that lies down then. Unchanged where no pins are declared. */
export const upperSide = (laidBoard: LaidBoard): LaidBoard =>
  isTurned(laidBoard)
    ? {
        ...laidBoard,
        items: laidBoard.items.map((i) => {
          const [pockets, holes] = [new Set(underPockets(i.part)), new Set(underHoles(i.part))];
          return {
            ...i,
            part: {
              ...i.part,
              pockets: i.part.pockets.filter((p) => !pockets.has(p)),
              holes: i.part.holes.filter((h) => !holes.has(h)),
            },
          };
        }),
      }
    : laidBoard;

/** Parts of the first side have names of their own, as joints meet either side of one part. */
const underName = (part: string): string => `${part} (under)`;
const overName = (part: string): string => part.replace(/ \(under\)$/, '');

const PIN = 'pin-';

/** Whether an item of a first side is the hole for a pin. */
export const isPin = (item: string): boolean => item.startsWith(PIN);

/** A pin's hole as a thing of its own in the waste. */
function pinItem(board: Board, index: number): PlacedItem {
  const { pins, diameter } = board.turnOver!;
  const [centre, id] = [pins[index]!, `${PIN}${index + 1}`];
  const ring = circleRing(centre, diameter / 2 + 1);
  return {
    item: id,
    piece: 1,
    part: {
      kind: 'part',
      id,
      name: 'pin hole',
      thickness: board.thickness,
      grain: null,
      cutFace: 'n+',
      showFace: null,
      stock: null,
      outline: { id: `${id}.edge`, ring, bare: ring, reliefs: [] },
      through: [],
      pockets: [],
      holes: [{ id, centre, diameter, face: 'n+', depth: 'through' }],
      from: [],
    },
  };
}

/**
 * The first side of a sheet that is turned over: the sheet face down, its parts mirrored, of each the recesses of the face that will lie
 * down later, and the holes for the pins. Undefined where nothing is cut on that face, or no pins are declared.
 */
export function underSide(laidBoard: LaidBoard): LaidBoard | undefined {
  if (!isTurned(laidBoard)) return undefined;
  const { board, items } = laidBoard;
  // Trimming cuts are made when all else is done, on the second side.
  const { turnOver, map: _map, trims: _trims, defects = [], ...rest } = board;
  const motion = turnMotion(board, turnOver!.axis);
  return {
    // Readings speak of the other face's places; the mean holds for both.
    board: {
      ...rest,
      id: `${board.id}.under`,
      outline: isWhole(board) ? board.outline : counterClockwise(moveRing(motion, board.outline)),
      ...(defects.length === 0
        ? {}
        : {
            defects: defects.map((d) => ({
              outline: counterClockwise(moveRing(motion, d.outline)),
              face: d.face === 'up' ? ('down' as const) : ('up' as const),
            })),
          }),
      keepOuts: board.keepOuts.slice(0, board.keepOuts.length - turnOver!.pins.length),
    },
    use: laidBoard.use,
    items: [
      ...turnOver!.pins.map((_, i) => pinItem(board, i)),
      ...items.flatMap((i): PlacedItem[] => {
        const [pockets, holes] = [underPockets(i.part), underHoles(i.part)];
        if (pockets.length + holes.length === 0) return [];
        const part = movePart(motion, { ...i.part, through: [], pockets, holes });
        return [{ ...i, part: { ...part, id: underName(part.id), cutFace: flipped(part.cutFace) } }];
      }),
    ],
  };
}

/** Joints and thicknesses in which what is cut on the first sides is told from what is cut on the second. */
export function bySides(
  laid: Pick<LaidJob, 'fitted' | 'thicknesses'>,
  boards: readonly LaidBoard[],
): Pick<LaidJob, 'fitted' | 'thicknesses'> {
  const turned = new Map(
    boards
      .filter(isTurned)
      .flatMap((b) => b.items.flatMap(({ part }) => underPockets(part).map((p) => [p.id, part.id] as const))),
  );
  if (turned.size === 0) return laid;
  const joints = laid.fitted.joinery.joints.map(
    (j): Joint => ({
      ...j,
      fits: j.fits.map((f) => (turned.has(f.contour) ? { ...f, slotPart: underName(f.slotPart) } : f)),
    }),
  );
  const names = [...new Set(turned.values())];
  return {
    fitted: { ...laid.fitted, joinery: { ...laid.fitted.joinery, joints } },
    thicknesses: {
      ...laid.thicknesses,
      ...Object.fromEntries(names.map((id) => [underName(id), laid.thicknesses[id]!])),
    },
  };
}

/** Joints as people know them, whichever side they were cut on. */
export const asOneSide = (joints: readonly JointProof[]): JointProof[] =>
  joints.map((j) => ({
    ...j,
    slotPart: overName(j.slotPart),
    fits: j.fits.map((f) => ({ ...f, slotPart: overName(f.slotPart) })),
  }));

/** Rules that ask how parts come out of the sheet: on the first side they do not. */
const STAYING: ReadonlySet<string> = new Set(['P11', 'P12', 'P13']);

/** The proof of a first side, on which every part stays in the sheet: what asks after its outline is not judged there. */
export function stayingProof(proof: Proof, { items }: LaidBoard): Proof {
  const outlines = new Set(items.flatMap(({ item, part }) => [part.outline.id, item]));
  const rules = proof.rules.map((r): RuleResult => {
    if (STAYING.has(r.rule)) return { ...r, verdict: 'not judged', margin: null, findings: [] };
    if (r.rule !== 'P09' || r.verdict === 'not judged') return r;
    const findings = r.findings.filter((f) => f.feature !== undefined && !outlines.has(f.feature));
    return { ...r, verdict: findings.length > 0 ? 'fail' : 'pass', margin: null, findings };
  });
  return { ...proof, rules, joints: asOneSide(proof.joints), pass: rules.every((r) => r.verdict !== 'fail') };
}

/** The proofs of both sides of a board as one: the gravest verdict and the least margin of each rule, findings of the first side by name. */
export function bothSides(second: Proof, first: Proof): Proof {
  const grave = (v: RuleResult['verdict']): number => (v === 'fail' ? 0 : v === 'pass' ? 1 : 2);
  return {
    ...second,
    pass: second.pass && first.pass,
    rules: second.rules.map((r, i): RuleResult => {
      const other = first.rules[i]!;
      const margins = [r.margin, other.margin].flatMap((m) => m ?? []);
      return {
        ...r,
        verdict: grave(other.verdict) < grave(r.verdict) ? other.verdict : r.verdict,
        margin: margins.length === 0 ? null : Math.min(...margins),
        findings: [...other.findings.map((f) => ({ program: first.board, ...f })), ...r.findings],
      };
    }),
    blocks: second.blocks + first.blocks,
    seconds: second.seconds + first.seconds,
  };
}

const places = ({ turnOver }: Board): string => turnOver!.pins.map((p) => `(${p.x}, ${p.y})`).join(', ');

const stopPlaces = ({ turnOver }: Board): string =>
  turnOver!.stops!.map((p) => `(${p.x}, ${p.y})`).join(', ');

/** What is set before the first side is cut. */
export const firstSideWords = (board: Board): string[] =>
  board.turnOver!.stops === undefined
    ? [
        'first side: the sheet lies with its cut faces down, no pins in the bed',
        `it bores pin holes of ${board.turnOver!.diameter} mm at ${places(board)}; has the bed none there, drill on through them into it before the sheet is lifted`,
      ]
    : [
        'first side: the sheet lies with its cut faces down',
        `its edges lie against stops of ${board.turnOver!.diameter} mm that touch it at ${stopPlaces(board)}`,
      ];

/** What is set before the second side is cut; nothing where a board is not turned over. */
export function secondSideWords(laidBoard: LaidBoard): string[] {
  if (!isTurned(laidBoard)) return [];
  const { board } = laidBoard;
  const { axis, diameter, stops } = board.turnOver!;
  const sides = axis === 'y' ? 'left and right' : 'front and back';
  const turn = `turn the sheet over about its middle line along ${axis.toUpperCase()} (${sides} change places)`;
  if (stops === undefined)
    return [
      `second side: pins of ${diameter} mm in the bed at ${places(board)}, below the sheet's top`,
      `${turn} on to the pins; X0 Y0 stays where it is`,
    ];
  const { minX, minY, maxX, maxY } = ringBounds(board.outline);
  const [across, size] = axis === 'y' ? ['X', maxX - minX] : ['Y', maxY - minY];
  return [
    `second side: ${turn} and push it against the same stops, at ${stopPlaces(board)}; X0 Y0 stays where it is`,
    `another edge touches there now: measure the sheet along ${across} first; what it differs from ${Math.round(size * 1000) / 1000} mm, the recesses of the two faces lie off each other`,
  ];
}

/** How a sheet that is turned over lies where its work is taken up again on one side; nothing where a board is not turned over. */
export const sideAgainWords = (whole: LaidBoard, isUnder: boolean): string[] =>
  !isTurned(whole)
    ? []
    : [
        isUnder
          ? 'first side: the sheet still lies with its cut faces down; nothing of it was moved'
          : `second side: the sheet is turned over and still lies ${whole.board.turnOver!.stops === undefined ? 'on its pins' : 'against its stops'}; nothing of it was moved`,
      ];
