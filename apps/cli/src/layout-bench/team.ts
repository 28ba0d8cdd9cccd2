import type { Layout } from '@haunch/model';
import { heardBy, type Met } from '@haunch/nesting';

/** The explorers of one trial, where they meet. */
export interface Team {
  /** Explorer `k` has come to a meeting; `tell` is called with what it hears, at once or when the others have come too. */
  meet(k: number, met: Met, tell: (heard: Layout | undefined) => void): void;
  /** Explorer `k` has ended: nobody waits for it. */
  leave(k: number): void;
  /** Nobody is waited for any more: some may never begin, as the work is being stopped. */
  disband(): void;
}

/**
 * A team of so many explorers. `counted`: whoever meets waits until each of the others meets or has ended, so that what
 * is heard does not depend on how fast they are; otherwise each hears at once what the others last had.
 */
export function teamOf(explorers: number, counted: boolean): Team {
  const met: (Met | undefined)[] = Array.from({ length: explorers }, () => undefined);
  const left = new Set<number>();
  let waits = counted;
  const waiting = new Map<number, (heard: Layout | undefined) => void>();
  const tellAll = (): void => {
    if (waits && waiting.size + left.size < explorers) return;
    const told = [...waiting].map(([k, tell]) => ({ tell, heard: heardBy(k, met) }));
    waiting.clear();
    for (const { tell, heard } of told) tell(heard);
  };
  return {
    meet(k, own, tell) {
      met[k] = own;
      waiting.set(k, tell);
      tellAll();
    },
    leave(k) {
      left.add(k);
      waiting.delete(k);
      tellAll();
    },
    disband() {
      waits = false;
      tellAll();
    },
  };
}
