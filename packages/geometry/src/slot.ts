/** What a slot has to take in besides the sheet: all mm, films measured as they are once dry. */
export interface SlotFit {
  /** The measured thickness of the bare sheet that goes in. */
  readonly thickness: number;
  /** Slot less sheet as finished: positive is loose, negative a press fit. */
  readonly clearance?: number;
  /** The film on each face of the sheet that goes in, of which there are two. */
  readonly faceFilm?: number;
  /** The film on each wall of the slot, of which there are two. */
  readonly wallFilm?: number;
}

/**
 * The width to cut a slot, mm: thickness + clearance + 2·face film + 2·wall film, so that sheet and slot have
 * the clearance once both are finished (reference value F5; common practice, no published standard).
 * @throws RangeError when a number is not finite, the thickness is not positive, a film is negative, or nothing
 * is left of the slot.
 */
export function slotWidth({ thickness, clearance = 0, faceFilm = 0, wallFilm = 0 }: SlotFit): number {
  assertLengths('slotWidth', { thickness, clearance, faceFilm, wallFilm });
  assertSheet('slotWidth', thickness, faceFilm, wallFilm);
  const width = thickness + clearance + 2 * faceFilm + 2 * wallFilm;
  if (!(width > 0)) throw new RangeError(`slotWidth: a clearance of ${clearance} leaves no slot`);
  return width;
}

/**
 * The clearance that a slot cut `width` mm wide has once sheet and walls are finished, mm; negative is a press
 * fit. The inverse of `slotWidth`.
 * @throws RangeError as `slotWidth` does.
 */
export function slotClearance({
  width,
  thickness,
  faceFilm = 0,
  wallFilm = 0,
}: Omit<SlotFit, 'clearance'> & { readonly width: number }): number {
  assertLengths('slotClearance', { width, thickness, faceFilm, wallFilm });
  assertSheet('slotClearance', thickness, faceFilm, wallFilm);
  return width - thickness - 2 * faceFilm - 2 * wallFilm;
}

/** A cutter as the program has it and as it is, diameters in mm. */
export interface CutterError {
  readonly assumed: number;
  readonly measured: number;
}

/**
 * How much wider than drawn an inside feature (slot, mortise, hole) comes out, mm, when the path was made for a
 * cutter of the `assumed` diameter: measured − assumed, as each wall moves by half. A worn cutter gives a
 * negative number (reference value G2).
 * @throws RangeError when a diameter is not positive and finite.
 */
export function insideGrowth({ assumed, measured }: CutterError): number {
  assertCutter('insideGrowth', assumed, measured);
  return measured - assumed;
}

/**
 * How much wider than drawn an outside feature (part, tenon) comes out, mm: assumed − measured. A tenon and its
 * mortise cut with one cutter so lose twice what the cutter lost in diameter (reference value G2).
 * @throws RangeError when a diameter is not positive and finite.
 */
export function outsideGrowth({ assumed, measured }: CutterError): number {
  assertCutter('outsideGrowth', assumed, measured);
  return assumed - measured;
}

/** How a slot is cut: one pass down its middle, or a loop inside its walls. */
export type SlotCut =
  | { readonly kind: 'single-pass'; readonly width: number }
  | { readonly kind: 'loop'; readonly inset: number; readonly width: number }
  | { readonly kind: 'too-narrow'; readonly short: number };

/**
 * How a cutter makes a slot `width` mm wide (reference value G2): narrower than the cutter it cannot, as wide
 * it is one pass, and wider a loop inset by half the cutter. `width` of the answer is what comes out with the
 * runout `runout` (total indicator reading), which widens the kerf by up to as much.
 * `within` mm of the cutter's diameter counts as equal.
 * @throws RangeError when a number is not finite, width or cutter are not positive, or runout or `within` is
 * negative.
 */
export function slotCut({
  width,
  cutter,
  runout = 0,
  within = 0,
}: {
  readonly width: number;
  readonly cutter: number;
  readonly runout?: number;
  readonly within?: number;
}): SlotCut {
  assertLengths('slotCut', { width, cutter, runout, within });
  if (!(width > 0 && cutter > 0 && runout >= 0 && within >= 0))
    throw new RangeError(`slotCut: width ${width}, cutter ${cutter}, runout ${runout}, within ${within}`);
  if (width < cutter - within) return { kind: 'too-narrow', short: cutter - width };
  if (width <= cutter + within) return { kind: 'single-pass', width: cutter + runout };
  return { kind: 'loop', inset: cutter / 2, width: width + runout };
}

function assertLengths(what: string, lengths: Readonly<Record<string, number>>): void {
  for (const [name, value] of Object.entries(lengths))
    if (!Number.isFinite(value)) throw new RangeError(`${what}: ${name} ${value} is not a finite length`);
}

function assertSheet(what: string, thickness: number, faceFilm: number, wallFilm: number): void {
  if (!(thickness > 0)) throw new RangeError(`${what}: thickness ${thickness} must be positive`);
  if (faceFilm < 0 || wallFilm < 0)
    throw new RangeError(`${what}: a film of ${Math.min(faceFilm, wallFilm)} cannot be`);
}

function assertCutter(what: string, assumed: number, measured: number): void {
  assertLengths(what, { assumed, measured });
  if (!(assumed > 0 && measured > 0))
    throw new RangeError(`${what}: diameters ${assumed} and ${measured} must be positive`);
}
