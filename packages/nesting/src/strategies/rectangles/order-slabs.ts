import { fillStrip, type Slab, type Slabs, slabsFor } from './skyline.js';

/** Orders are accepted that are worse by so much at first, as a share of the strip's area up to `aim` … */
const WARM = 0.02;
/** … and by so much at the end of a round. */
const COLD = 0.0003;
/** Orders of the first round; later ones are longer. */
const FIRST_ROUND = 600;
const LONGER = 1.6;

/** Share of the changes in which two slabs change places; in the others one goes elsewhere. */
const SWAPPED = 0.7;

const copyOf = (s: Slabs): Slabs => ({
  ...s,
  along: s.along.slice(),
  across: s.across.slice(),
  turned: s.turned.slice(),
});

/** What is minimised: the length, and what lies beyond the aim. */
const costOf = (s: Slabs, width: number, aim: number): number =>
  (Math.max(0, s.length - aim) + s.beyond / width) / aim;

/**
 * Ever shorter ways to lay slabs in a strip `width` across, by changing the order in which they are laid (simulated
 * annealing in rounds, each begun anew). `aim` is a length that none can be shorter than; ends when it is reached or the
 * budget is spent. Each order takes one tick.
 */
export function* orderSlabs(
  slabs: readonly Slab[],
  width: number,
  aim: number,
  run: { random(): number; tick(): boolean },
): Generator<Slabs> {
  const n = slabs.length;
  const size = (i: number): number => slabs[i]!.long * slabs[i]!.wide;
  const measures: ((i: number) => number)[] = [
    size,
    (i) => Math.max(slabs[i]!.long, slabs[i]!.wide),
    (i) => slabs[i]!.wide,
    (i) => slabs[i]!.long + slabs[i]!.wide,
  ];
  const work = slabsFor(n);
  let shortest = Infinity;
  let better: Slabs | undefined;
  const lengthOf = (order: Int32Array): number | undefined => {
    if (!run.tick() || !fillStrip(slabs, order, width, aim, work)) return undefined;
    if (work.length < shortest) {
      shortest = work.length;
      better = copyOf(work);
    }
    return costOf(work, width, aim);
  };
  const below = (k: number): number => Math.floor(run.random() * k);
  for (let round = 0, most = FIRST_ROUND; ; round++, most = Math.ceil(most * LONGER)) {
    const measure = measures[round % measures.length]!;
    const order = Int32Array.from(slabs.keys()).sort((a, b) => measure(b) - measure(a) || a - b);
    let cost = lengthOf(order);
    if (cost === undefined) return;
    for (let k = 0; k < most; k++) {
      if (better) yield better;
      better = undefined;
      if (shortest <= aim || n < 2) return;
      const warmth = WARM * (COLD / WARM) ** (k / most);
      const a = below(n);
      const b = below(n);
      if (a === b) continue;
      const was = order.slice();
      if (run.random() < SWAPPED) [order[a], order[b]] = [order[b]!, order[a]!];
      else {
        const list = Array.from(was);
        list.splice(b, 0, ...list.splice(a, 1));
        order.set(list);
      }
      const next = lengthOf(order);
      if (next === undefined) return;
      if (next <= cost || run.random() < Math.exp((cost - next) / warmth)) cost = next;
      else order.set(was);
    }
    if (better) yield better;
    better = undefined;
  }
}
