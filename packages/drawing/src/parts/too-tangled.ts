/** Thrown inside where lines cross or lie over each other too often to be told apart; never leaves the package. */
export class TooTangled extends Error {}

/** Counts work, and throws `TooTangled` with `what` when it is more than `most`. */
export function budgetOf(most: number, what: string): (work: number) => void {
  let left = most;
  return (work) => {
    left -= work;
    if (left < 0) throw new TooTangled(what);
  };
}
