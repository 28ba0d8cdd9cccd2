import type { Point } from '@haunch/geometry';
import { fail, type Outcome, ok } from '@haunch/model';
import { tooDense } from '../diagnostics.js';

/** Ways of the cutter cross each other too often to be swept; `at` is a place where they do. mm */
export class TooDense extends Error {
  constructor(readonly at: Point) {
    super('too dense');
  }
}

/** Does work that sweeps; a program that is too dense for it fails with the place. */
export function whereSweepable<T>(file: string | undefined, work: () => T): Outcome<T> {
  try {
    return ok(work());
  } catch (e) {
    if (e instanceof TooDense) return fail(tooDense(file, e.at));
    throw e;
  }
}
