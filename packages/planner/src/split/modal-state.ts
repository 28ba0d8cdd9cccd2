import type { Move, Place } from '@haunch/model';

/** What is in force at a place of a toolpath: what a program that begins there must bring about by itself. */
export interface ModalState {
  readonly at: Place | undefined;
  readonly cutter: Extract<Move, { kind: 'cutter' }> | undefined;
  readonly rpm: number;
  /** Seconds that the spindle was last given to come up to speed. */
  readonly spinUp: number;
  readonly offset: Extract<Move, { kind: 'offset' }> | undefined;
}

const NOTHING: ModalState = { at: undefined, cutter: undefined, rpm: 0, spinUp: 0, offset: undefined };

/** What is in force before the move `end`. */
export function modalStateAt(moves: readonly Move[], end: number): ModalState {
  let state = NOTHING;
  let starting = false;
  for (const m of moves.slice(0, end)) {
    if (m.kind === 'cutter') state = { ...state, cutter: m, rpm: 0 };
    else if (m.kind === 'spindle') {
      starting = state.rpm === 0 && m.rpm !== 0;
      state = { ...state, rpm: m.rpm };
    } else if (m.kind === 'dwell') {
      if (starting) state = { ...state, spinUp: m.seconds };
      starting = false;
    } else if (m.kind === 'offset') state = { ...state, offset: m };
    else if ('to' in m) {
      starting = false;
      state = { ...state, at: m.to };
    }
  }
  return state;
}

/** Whether a cutter is changed in a run of moves before anything moves. */
export const changesFirst = (moves: readonly Move[]): boolean => {
  const first = moves.find((m) => m.kind === 'cutter' || ('to' in m && m.kind !== 'rapid'));
  return first?.kind === 'cutter';
};
