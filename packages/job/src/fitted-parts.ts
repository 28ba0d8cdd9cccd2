import {
  findJoints,
  fitParts,
  type Joinery,
  lostContacts,
  type PlateThickness,
  refitMaster,
  withLocalThickness,
} from '@haunch/joinery';
import { type Diagnostic, type Fit, fail, type Master, type Outcome, ok, type Part } from '@haunch/model';
import { unknownName } from './diagnostics.js';
import type { Job } from './job.js';
import { type AllowanceBasis, allowancesOf, type MaterialOf } from './job-allowances.js';
import type { Pieces } from './load-pieces.js';
import { widerThanSlots } from './wider-than-slots.js';

/** Parts refitted to real thicknesses, with clearances and reliefs, and the joints between them. */
export interface FittedParts {
  /** The refitted master before clearances; null for drawings. */
  readonly master: Master | null;
  readonly parts: readonly Part[];
  readonly joinery: Joinery;
}

/** The material that a part asks for by its stock; the only one of the job where any board would do. */
export function materialByStock(job: Job, pieces: Pieces): MaterialOf {
  const all = new Set(job.materials.values());
  const only = all.size === 1 ? [...all][0]! : null;
  return (part) => {
    const stock = pieces.stock.get(part);
    return stock === undefined ? only : (job.materials.get(stock) ?? stock);
  };
}

/** The joinery with what is known of the entering plates where single fits grip them, mm. */
const withGrips = (joinery: Joinery, atGrip: (fit: Fit) => number | undefined): Joinery => ({
  ...joinery,
  joints: joinery.joints.map((j) => ({
    ...j,
    fits: j.fits.map((f): Fit => {
      const local = f.kind === 'thickness' ? atGrip(f) : undefined;
      return local === undefined ? f : { ...f, local };
    }),
  })),
});

/**
 * Refits, finds the joints, applies clearances and reliefs for these thicknesses (mm, by part id). With `local`
 * every slot follows the entering plate's thickness at the very spot that it grips, with `atGrip` that which is known of a fit; `basis` says whether clearances are
 * the family's usual ones or the ladders'; `materialOf` what each part is cut from, by its stock where that is not yet known.
 */
export function fittedParts(
  job: Job,
  pieces: Pieces,
  thicknesses: Readonly<Record<string, number>>,
  {
    basis,
    local,
    atGrip,
    materialOf = materialByStock(job, pieces),
  }: {
    readonly basis: AllowanceBasis;
    readonly local?: PlateThickness;
    readonly atGrip?: (fit: Fit) => number | undefined;
    readonly materialOf?: MaterialOf;
  },
): Outcome<FittedParts> {
  const none: Joinery = { joints: [], contacts: [] };
  if (!pieces.master) return ok({ master: null, parts: pieces.loose, joinery: none });
  const unknown = Object.keys(job.settings.fit.perJoint).filter(
    (id) => !pieces.master!.mates.some((m) => m.id === id),
  );
  if (unknown.length > 0)
    return fail(
      ...unknown.map(
        (id): Diagnostic =>
          unknownName('joint', id, 'fit.perJoint', job.file, job.lineOf(['fit', 'perJoint', id])),
      ),
    );
  const allowances = allowancesOf(job, basis, pieces.master, materialOf);
  const refitted = refitMaster(pieces.master, { thicknesses });
  if (!refitted.ok) return refitted;
  const found = findJoints(refitted.value, allowances);
  if (!found.ok) return found;
  const drawn = findJoints(pieces.master, allowances);
  if (!drawn.ok) return drawn;
  const lost = lostContacts(drawn.value, found.value);
  if (lost.length > 0) return fail(...lost);
  const mapped = local ? withLocalThickness(refitted.value, found.value, local) : found.value;
  const joinery = atGrip ? withGrips(mapped, atGrip) : mapped;
  const wider = widerThanSlots(joinery.joints, thicknesses, job.cutters);
  if (wider.length > 0) return fail(...wider);
  const { form, surplus } = job.settings.relief;
  const parts = fitParts(refitted.value, joinery, {
    relief:
      form === 'none'
        ? null
        : { form, surplus, radius: (basis === 'usual' ? job.written : job.router).diameter / 2 },
  });
  if (!parts.ok) return parts;
  return ok({ master: refitted.value, parts: [...parts.value, ...pieces.loose], joinery }, [
    ...refitted.diagnostics,
    ...found.diagnostics,
    ...parts.diagnostics,
  ]);
}
