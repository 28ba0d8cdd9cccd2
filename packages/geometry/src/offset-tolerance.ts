/**
 * Points nearer than this are one node of an offset, mm: a tenth of the touch tolerance, a thousandth of the
 * grid, and far above the rounding of a computed crossing at the size of a sheet (about 1e-11 mm).
 */
export const COINCIDE = 1e-7;

/**
 * A piece of an offset may be nearer to its source than it should by this much, mm, before it is dropped.
 * True pieces miss the distance by rounding only; wrong ones that pass are cut off as loose ends.
 */
export const NEARER = 1e-8;

/** Curves between the same two nodes whose middles are nearer than this run over each other, mm. */
export const SAME_COURSE = 1e-6;

/** An offset thinner than this on average encloses nothing, mm. */
export const THIN = 1e-6;

/** The most that tidying may take a result off its course, mm: a tenth of what is promised. */
export const OFF_COURSE = 1e-7;
