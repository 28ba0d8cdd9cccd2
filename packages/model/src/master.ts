import { z } from 'zod';

const pair = z.tuple([z.number(), z.number()]);
const triple = z.tuple([z.number(), z.number(), z.number()]);
const id = z
  .string()
  .min(1)
  .regex(/[^0-9]/, 'an id must not look like an integer');

/** A direction along a world axis, or a unit vector. */
export const AxisSchema = z.union([z.enum(['+X', '-X', '+Y', '-Y', '+Z', '-Z']), triple]);
/** One of a plate's two faces: n− is w = 0, n+ is w = thickness. */
export const FaceSchema = z.enum(['n-', 'n+']);

/** A straight segment to a point, or an arc to it round a centre. `on` names the marks that it follows. */
export const MasterSegmentSchema = z
  .strictObject({
    to: pair,
    centre: pair.optional(),
    dir: z.enum(['cw', 'ccw']).optional(),
    on: z.union([z.string(), z.array(z.string()).readonly()]).optional(),
  })
  .refine((s) => (s.centre === undefined) === (s.dir === undefined), {
    message: 'an arc needs both centre and dir',
  });

/** A closed loop: a start point and segments, the last of which returns to it. */
export const MasterLoopSchema = z.strictObject({
  start: pair,
  segments: z.array(MasterSegmentSchema).min(2).readonly(),
});

/**
 * A plane of the piece that is a constant plus parts of plates' thicknesses, measured along a world axis or along
 * `normal`, a unit vector, where plates stand at an angle.
 */
export const MarkSchema = z
  .strictObject({
    id,
    axis: z.enum(['X', 'Y', 'Z']).optional(),
    normal: triple.optional(),
    constant: z.number(),
    terms: z.record(z.string(), z.number()),
  })
  .refine((m) => (m.axis === undefined) !== (m.normal === undefined), {
    message: 'a mark needs either an axis or a normal',
  });

/** A recess of constant depth below a face; a housing where a plate enters it. mm. */
export const MasterPocketSchema = z.strictObject({
  id,
  face: FaceSchema,
  depth: z.number().positive(),
  loop: MasterLoopSchema,
});
/** A round hole, blind or through; `on` names the marks that its centre follows. mm. */
export const MasterHoleSchema = z.strictObject({
  id,
  centre: pair,
  diameter: z.number().positive(),
  face: FaceSchema,
  depth: z.union([z.number().positive(), z.literal('through')]),
  on: z.array(z.string()).readonly().optional(),
});

/**
 * A plate: its frame in the piece (body = origin + u·U + v·V + w·N, w from 0 to thickness), what stays put when its
 * thickness changes, its faces, and its curves in (u, v) as seen from n+. mm.
 */
export const MasterPartSchema = z.strictObject({
  id,
  name: z.string(),
  thickness: z.number().positive(),
  stock: z.string(),
  frame: z.strictObject({
    origin: triple,
    u: AxisSchema,
    v: AxisSchema,
    n: AxisSchema,
    on: z.string().optional(),
  }),
  hold: z.enum(['n-', 'n+', 'mid']),
  grain: z.enum(['u', 'v', 'none']),
  showFace: FaceSchema,
  cutFace: FaceSchema,
  outline: MasterLoopSchema,
  through: z.array(z.strictObject({ id, loop: MasterLoopSchema })).readonly(),
  pockets: z.array(MasterPocketSchema).readonly(),
  holes: z.array(MasterHoleSchema).readonly(),
});

/** Two parts meeting: which is slotted, which enters and how it moves; features by id or in words. */
export const MasterMateSchema = z.strictObject({
  id,
  type: z.string(),
  slotPart: z.string(),
  slotFeatures: z.array(z.string()).readonly(),
  enteringPart: z.string(),
  enteringNote: z.string().optional(),
  enteringMoves: AxisSchema,
  locates: z.array(AxisSchema).readonly(),
  stopsOn: AxisSchema.optional(),
  note: z.string().optional(),
});

/** One step of putting the piece together: which parts move, along which direction, how far (mm). */
export const AssemblyStepSchema = z.strictObject({
  step: z.number().int().positive(),
  fixed: z.array(z.string()).readonly(),
  moving: z.array(z.string()).readonly(),
  move: AxisSchema,
  travel: z.number(),
  text: z.string(),
});

/** Why an edge follows what it follows; `by hand`: a person says so. */
export const MarkReasonSchema = z.enum([
  'face',
  'floor',
  'flush',
  'gap',
  'seat',
  'kept',
  'corner',
  'by hand',
]);

/** How a master was found from flat parts: what was asked and answered, how sure each mate is, why each edge follows. */
export const FoundRecordSchema = z.strictObject({
  /** The file in which the parts were drawn. */
  from: z.string(),
  /** The least and the greatest gap from wall to face that was drawn and taken out. mm */
  clearance: pair.optional(),
  /** Answers by question: the number of the choice, from 1. */
  answers: z.record(z.string(), z.number().int().positive()).default({}),
  /** What single edges follow, as a person said: shares of parts' thicknesses; none where the edge stays. */
  follows: z.record(z.string(), z.record(z.string(), z.number())).default({}),
  /** The angles at which parts pass through others, as a person said where clearance in the slots hides them: degrees, by part. */
  leans: z.record(z.string(), z.number().positive().max(90)).optional(),
  /** How sure each mate is, 0 to 1. */
  certainty: z.record(z.string(), z.number().min(0).max(1)).default({}),
  /** The marks on which edges, centres and frames lie, each with its reason; `null` where a person said that it stays. */
  reasons: z
    .array(
      z.strictObject({
        edge: z.string(),
        mark: z.string().nullable(),
        reason: MarkReasonSchema,
        with: z.string(),
      }),
    )
    .readonly()
    .default([]),
  /** Cuts, recesses and holes that touch no other part, and what they follow: marks, or nothing. */
  free: z
    .array(z.strictObject({ feature: z.string(), follows: z.array(z.string()).readonly() }))
    .readonly()
    .default([]),
});

/** `haunch-master` version 1: one drawing of a piece that can be refitted to any sheet. */
export const MasterSchema = z.strictObject({
  format: z.literal('haunch-master'),
  version: z.literal(1),
  title: z.string(),
  units: z.literal('mm'),
  designThickness: z.number().positive(),
  frame: z.string().optional(),
  envelope: triple.optional(),
  holdNotes: z.record(z.string(), z.string()).optional(),
  marks: z.array(MarkSchema).readonly().default([]),
  parts: z.array(MasterPartSchema).min(1).readonly(),
  mates: z.array(MasterMateSchema).readonly().default([]),
  assembly: z.array(AssemblyStepSchema).readonly().default([]),
  found: FoundRecordSchema.optional(),
});

/** One of a plate’s faces. */
export type Face = z.infer<typeof FaceSchema>;
/** A direction: a world axis or a unit vector. */
export type Axis = z.infer<typeof AxisSchema>;
/** A plane of the piece that is a constant plus parts of plates’ thicknesses. mm. */
export type Mark = z.infer<typeof MarkSchema>;
/** A segment of a master’s loop. */
export type MasterSegment = z.infer<typeof MasterSegmentSchema>;
/** A closed loop of a master. */
export type MasterLoop = z.infer<typeof MasterLoopSchema>;
/** A recess in a master’s part. */
export type MasterPocket = z.infer<typeof MasterPocketSchema>;
/** A hole in a master’s part. */
export type MasterHole = z.infer<typeof MasterHoleSchema>;
/** A plate of a master. */
export type MasterPart = z.infer<typeof MasterPartSchema>;
/** Two parts of a master meeting. */
export type MasterMate = z.infer<typeof MasterMateSchema>;
/** A step of the assembly. */
export type AssemblyStep = z.infer<typeof AssemblyStepSchema>;
/** Why an edge follows what it follows. */
export type MarkReason = z.infer<typeof MarkReasonSchema>;
/** How a master was found from flat parts. */
export type FoundRecord = z.infer<typeof FoundRecordSchema>;
/** A master: parts, the marks that their edges lie on, mates and assembly. mm. Plain data. */
export type Master = z.infer<typeof MasterSchema>;
