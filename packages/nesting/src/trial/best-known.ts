import type { LayoutProblem } from './problem.js';

/** A published figure: density of the best layout of one of the collection's strip sets, and who published it. */
export interface Published {
  readonly density: number;
  readonly source: string;
}

const GARDEYN =
  'J. Gardeyn, G. Vanden Berghe and T. Wauters, arXiv:2509.13329v1 (2025), best of 100 runs of 20 min on 3 threads';
const ELKERAN = 'A. Elkeran, European Journal of Operational Research 231 (2013), 757-769, as quoted there';
const SEVERAL = 'several of 2013 to 2019, as quoted in arXiv:2509.13329v1 (2025)';
const JIGSAW = "by construction, the collection's readme";

/** Density in percent of the best layouts in print for the irregular strip sets, by the set's name. */
const BEST: Readonly<Record<string, readonly [number, string]>> = {
  albano: [89.82, GARDEYN],
  blaz: [86.23, GARDEYN],
  dagli: [90.17, GARDEYN],
  dighe1: [100, JIGSAW],
  dighe2: [100, JIGSAW],
  fu: [92.41, ELKERAN],
  jakobs1: [89.26, GARDEYN],
  jakobs2: [87.73, SEVERAL],
  mao: [86.87, GARDEYN],
  marques: [92.02, GARDEYN],
  shapes0: [69.98, GARDEYN],
  shapes1: [76.73, SEVERAL],
  shirts: [90.92, GARDEYN],
  swim: [79.83, GARDEYN],
  trousers: [92.62, GARDEYN],
};

/** The strip width that the published figures are for. */
const WIDTHS: Readonly<Record<string, number>> = {
  albano: 4900,
  blaz: 15,
  dagli: 60,
  dighe1: 100,
  dighe2: 100,
  fu: 38,
  jakobs1: 40,
  jakobs2: 70,
  mao: 2550,
  marques: 104,
  shapes0: 40,
  shapes1: 40,
  shirts: 40,
  swim: 5752,
  trousers: 79,
};

/**
 * The best density in print for a strip set of the EURO special interest group's collection, by name and, so that no
 * stranger of the same name is taken for it, by its width; undefined where none is known here. Runs of the source
 * inflated the strip by 0.01 % for fu, jakobs1, jakobs2, shapes0 and shapes1.
 */
export function published(problem: LayoutProblem): Published | undefined {
  const best = BEST[problem.name.toLowerCase()];
  const width = WIDTHS[problem.name.toLowerCase()];
  return best && problem.stripWidth === width ? { density: best[0] / 100, source: best[1] } : undefined;
}
