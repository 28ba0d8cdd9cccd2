import type { Master, MasterPart } from '@haunch/model';

/** A plate that passes through another at an angle. */
export interface Leaning {
  /** From the slotted plate to the one that passes, radians: π/2 is square. */
  readonly angle: number;
  /** Thickness of the slotted plate and of the one that passes, mm. */
  readonly slotted: number;
  readonly passing: number;
  /** Added to the slot's width on the side of the passing plate's face n+, mm: 0 is right. */
  readonly wider?: number;
}

const TENON = 60;

/** The width of slot that a leaning plate needs, by the section square to both plates. */
export const slotFor = ({ angle, slotted, passing }: Leaning): number =>
  passing / Math.sin(angle) + slotted / Math.abs(Math.tan(angle));

/**
 * Plate U lies flat with one slot; plate S passes down through it with a tenon and stops with two shoulders on U's
 * upper face. S's mid-plane is held where it cuts the world's origin. Walls, shoulders and S itself are on marks.
 */
export function leaningPiece({ angle, slotted, passing, wider = 0 }: Leaning): Master {
  const [s, c] = [Math.sin(angle), Math.cos(angle)];
  const normal: [number, number, number] = [-s, 0, c];
  const steep = c > 0;
  // Where S leans over to −x its face n+ meets the wall at U's lower face, and its face n− the other at the upper one.
  const over = steep ? 0 : -c;
  const under = steep ? -c : 0;
  const left = -(passing / 2 + over * slotted) / s - wider;
  const right = -(-passing / 2 + under * slotted) / s;
  const part = (
    id: string,
    thickness: number,
    more: Pick<MasterPart, 'frame' | 'hold' | 'outline' | 'through'>,
  ): MasterPart => ({
    id,
    name: id,
    thickness,
    stock: 'sheet-1',
    grain: 'u',
    showFace: 'n+',
    cutFace: 'n+',
    pockets: [],
    holes: [],
    ...more,
  });
  const origin: [number, number, number] = [(s * passing) / 2, 0, (-c * passing) / 2];
  // The shoulder's lower arris is at face n− where S leans to one side, at face n+ where it leans to the other.
  const lower = steep ? 0 : -c;
  const shoulder = (slotted + lower * passing - origin[2]) / s;
  const low = (-25 - origin[2]) / s;
  return {
    format: 'haunch-master',
    version: 1,
    title: 'A plate that leans through another',
    units: 'mm',
    designThickness: passing,
    marks: [
      { id: 'S-', normal, constant: 0, terms: { S: -0.5 } },
      { id: 'left', normal, constant: 0, terms: { S: 0.5, U: over } },
      { id: 'right', normal, constant: 0, terms: { S: -0.5, U: under } },
      { id: 'shoulder', axis: 'Z', constant: 0, terms: { U: 1, S: lower } },
    ],
    parts: [
      part('U', slotted, {
        frame: { origin: [0, 0, 0], u: '+X', v: '+Y', n: '+Z' },
        hold: 'n-',
        outline: {
          start: [-200, 0],
          segments: [{ to: [200, 0] }, { to: [200, 160] }, { to: [-200, 160] }, { to: [-200, 0] }],
        },
        through: [
          {
            id: 'U.m1',
            loop: {
              start: [left, 50],
              segments: [
                { to: [right, 50] },
                { to: [right, 50 + TENON], on: 'right' },
                { to: [left, 50 + TENON] },
                { to: [left, 50], ...(wider === 0 ? { on: 'left' } : {}) },
              ],
            },
          },
        ],
      }),
      part('S', passing, {
        frame: { origin, u: [c, 0, s], v: '+Y', n: normal, on: 'S-' },
        hold: 'mid',
        outline: {
          start: [low, 50],
          segments: [
            { to: [shoulder, 50] },
            { to: [shoulder, 10], on: 'shoulder' },
            { to: [shoulder + 120, 10] },
            { to: [shoulder + 120, 150] },
            { to: [shoulder, 150] },
            { to: [shoulder, 50 + TENON], on: 'shoulder' },
            { to: [low, 50 + TENON] },
            { to: [low, 50] },
          ],
        },
        through: [],
      }),
    ],
    mates: [
      {
        id: 'M-U-S',
        type: 'through mortise and tenon at an angle',
        slotPart: 'U',
        slotFeatures: ['U.m1'],
        enteringPart: 'S',
        enteringMoves: [-c, 0, -s],
        locates: ['+Y', '-Y', normal, [s, 0, -c]],
        stopsOn: [-c, 0, -s],
      },
    ],
    assembly: [],
  };
}
