import type { Layout, NestingRun } from '@haunch/model';
import type { Score } from './score-layout.js';

/** The best that an explorer has at a meeting, as the referee let it pass. */
export interface Met {
  readonly layout: Layout;
  readonly score: Score;
}

/** The meetings of one explorer with the others. */
export interface Meetings {
  /** What its strategy is given to ask. */
  readonly asked: Pick<NestingRun, 'meets' | 'fellow'>;
  /** Whether the layout in hand was yielded for a meeting; answers so once. */
  begun(): boolean;
  /** Keeps what the best of the others has for the strategy to ask. */
  hear(layout: Layout | undefined): void;
}

/** No meetings. */
export const apart: Meetings = { asked: {}, begun: () => false, hear: () => {} };

/** Explorers meet this often in a whole budget, where their strategy asks. */
const OFTEN = 50;

/** Meetings at even shares of the budget: of a counted one, `spent` depends on nothing but ticks. */
export function evenMeetings(spent: () => number): Meetings {
  let next = 0;
  let begun = false;
  let heard: Layout | undefined;
  return {
    asked: {
      meets: () => {
        const now = Math.floor(spent() * OFTEN);
        if (now < next) return false;
        next = now + 1;
        begun = true;
        return true;
      },
      fellow: () => heard,
    },
    begun: () => {
      const was = begun;
      begun = false;
      return was;
    },
    hear: (layout) => {
      heard = layout;
    },
  };
}
