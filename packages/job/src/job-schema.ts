import { SHEET_STANDARDS } from '@haunch/gauge';
import { z } from 'zod';
import { JobCalibrationSchema } from './job-calibration-schema.js';
import { JobLadderSchema } from './job-ladder-schema.js';
import { JobPaperSchema } from './job-paper-schema.js';
import { LengthSchema, NonNegativeLengthSchema, PositiveLengthSchema } from './length-schema.js';

const name = z
  .string()
  .min(1)
  .regex(/[^0-9]/, 'a name must not look like an integer')
  .regex(/^[^\\/:*?"<>|\s][^\\:*?"<>|\s]*$/, 'a name holds no blanks and none of \\ : * ? " < > |');
const fileName = name.regex(/^[^/]+$/, 'a name that becomes a file name holds no /');
const place = z.tuple([LengthSchema, LengthSchema]);
const rectangle = z.tuple([LengthSchema, LengthSchema, LengthSchema, LengthSchema]);

/** What a layer of a drawing holds, whatever it is called; `depth` below the cut face, or below the other (`under`). */
export const LayerRuleSchema = z.discriminatedUnion('as', [
  z.strictObject({ as: z.literal('cut') }),
  z.strictObject({
    as: z.enum(['pocket', 'hole']),
    depth: PositiveLengthSchema,
    under: z.boolean().default(false),
  }),
  z.strictObject({ as: z.literal('engrave') }),
  z.strictObject({ as: z.literal('leave out') }),
]);

/** A piece to be made: a master, or a drawing of flat parts, and how many. */
export const JobPieceSchema = z.strictObject({
  /** File name, beside the job file: `….json` a master, `….dxf` or `….svg` a drawing. */
  source: z.string().min(1),
  count: z.number().int().min(1).max(500).default(1),
  /** Put before every part's id, where two sources use the same ids. */
  prefix: name.optional(),
  /** Design thickness of a drawing that does not state one. */
  thickness: PositiveLengthSchema.optional(),
  /** Unit of a drawing that does not state one. */
  unit: z.enum(['mm', 'cm', 'm', 'inch']).optional(),
  /** What layers of a drawing hold, by name; nothing else is taken from a name without saying so. */
  layers: z.record(z.string(), LayerRuleSchema).default({}),
  /** Ends of lines of a drawing that are still open are joined up to this distance. */
  joinWithin: PositiveLengthSchema.optional(),
  /** Whether layers of a drawing that are off or frozen are read as well. */
  hiddenLayers: z.boolean().default(false),
  /** Repairs of a drawing that are not to be made, by name or kind, as the import report calls them. */
  keep: z.array(z.string()).default([]),
  /** Which stock a part is cut from, by part id, where it is not what the source says. */
  stock: z.record(z.string(), z.string()).default({}),
});

/** A thickness reading: the value alone, or with the place where it was taken. */
export const JobReadingSchema = z.union([
  PositiveLengthSchema,
  z.strictObject({ thickness: PositiveLengthSchema, at: place }),
]);

const readings = z.array(JobReadingSchema).min(1, 'a board needs at least one thickness reading');

/** Where an off-cut lay in the sheet that it was cut from, whose readings speak for it. */
export const JobOffCutSchema = z.strictObject({
  width: PositiveLengthSchema,
  height: PositiveLengthSchema,
  readings,
  /** Where the off-cut's own lower left corner, as it lies on the machine now, was in the sheet. */
  at: place.describe(
    "where the off-cut's own lower left corner, as it lies on the machine now, was in the sheet",
  ),
  /** How the off-cut's X axis was turned in the sheet about that corner, counter-clockwise. */
  turnDegrees: z
    .number()
    .default(0)
    .describe("how the off-cut's X axis was turned in the sheet about that corner, counter-clockwise"),
  /** Whether it lies with its other face up than the sheet did: its X axis then ran to the sheet's left (before any turn). */
  turnedOver: z
    .boolean()
    .default(false)
    .describe(
      "whether it lies with its other face up: its X axis then ran to the sheet's left, before any turn",
    ),
});

/** A corner of a board's outline; with `through`, the edge to the next corner is the arc through that place. */
export const JobCornerSchema = z.union([place, z.strictObject({ at: place, through: place })]);

/** A board as measured. `width` runs along the machine's X, `height` along Y. */
export const JobBoardSchema = z.strictObject({
  id: fileName,
  /** Name by which parts ask for it; the board's id when left out. */
  stock: z.string().optional(),
  /** What it is made of, where several stocks are alike: a ladder and the shop's fits speak for a material; the stock when left out. */
  material: z.string().min(1).optional(),
  width: PositiveLengthSchema,
  height: PositiveLengthSchema,
  /** Its corners in order, where it is no rectangle: an L that was left of a sheet, a round end. */
  outline: z
    .array(JobCornerSchema)
    .min(2, 'an outline has three corners, or two with arcs')
    .exactOptional()
    .describe(
      'its corners in their order, where it is no rectangle: `[x, y]`, or `{ at, through }` where the edge to the next corner is an arc through that place; width and height are those of the box round it',
    ),
  readings: z.array(JobReadingSchema).default([]),
  offCutOf: JobOffCutSchema.optional(),
  /** The thickness on its label, by which readings that cannot be are known. */
  nominal: PositiveLengthSchema.optional(),
  /** The standard that it was sold by; a sheet outside its limits is refused. */
  standard: z.enum(SHEET_STANDARDS).optional(),
  /** With what it was measured. */
  instrument: z.string().optional(),
  /** Standard deviation of a repeated reading with it. */
  repeatability: PositiveLengthSchema.optional(),
  /** °C while measuring. */
  temperature: z.number().optional(),
  /** Relative humidity while measuring, per cent. */
  humidity: z.number().min(0).max(100).optional(),
  grain: z.enum(['x', 'y', 'none']).default('x'),
  sheet: z
    .enum(['softwood plywood', 'birch plywood', 'fibreboard', 'particleboard'])
    .exactOptional()
    .describe('what it is made of, for forces, speeds and cutting direction'),
  /** Rectangles that no cutter may enter: [x0, y0, x1, y1]. */
  keepOuts: z.array(rectangle).default([]),
  /** Flaws of one face, which parts that show it keep off. */
  defects: z
    .array(
      z.strictObject({
        box: rectangle.describe('the rectangle round it: [x0, y0, x1, y1]'),
        face: z
          .enum(['up', 'down', 'both'])
          .describe('the face that it is seen on, as the board lies on the machine'),
      }),
    )
    .default([])
    .describe('knots, dents and stains: parts that show that face keep off them, others lie over them'),
  /** Screws that hold the sheet: where, and how wide their heads are. */
  screws: z
    .array(z.strictObject({ at: place, head: PositiveLengthSchema.default(10) }))
    .default([])
    .describe('screws that hold the sheet; no cutter enters their heads'),
  /** Seals and pods of a vacuum bed under the sheet: rectangles that no cutter may enter. */
  zones: z
    .array(rectangle)
    .default([])
    .describe('seals and pods of a vacuum bed, which no cutter may enter: [x0, y0, x1, y1]'),
  /** Straight cuts through the sheet, after everything else. */
  trims: z
    .array(
      z.strictObject({
        along: z.enum(['x', 'y']).describe('the axis along which it runs, from edge to edge'),
        at: LengthSchema.describe('where its finished edge lies on the other axis'),
        waste: z
          .enum(['below', 'above'])
          .default('above')
          .describe('on which side of it the cutter runs: at less or at greater coordinates'),
      }),
    )
    .default([])
    .describe('straight cuts through the sheet that free an off-cut or trim an edge, after everything else'),
  /** Pins on which the sheet is turned over, or stops against which it lies, for features on both faces. */
  turnOver: z
    .strictObject({
      axis: z.enum(['x', 'y']).describe('the sheet is turned about its middle line along X or along Y'),
      pins: z
        .array(place)
        .min(2, 'a sheet is held in its place by two pins at least')
        .exactOptional()
        .describe('where pins stand in the bed'),
      stops: z
        .array(place)
        .min(3, 'a sheet lies in its place against three stops at least')
        .exactOptional()
        .describe("instead of pins: where round stops touch the sheet's edges, before and after the turn"),
      diameter: PositiveLengthSchema.describe('of the pins and of their holes in the sheet, or of the stops'),
    })
    .refine((t) => (t.pins === undefined) !== (t.stops === undefined), {
      message: 'a sheet is turned over on to pins or against stops: say where the ones or the others are',
    })
    .optional()
    .describe('pins or stops by which the sheet is turned over, for features on both faces'),
  /** What its area counts beside that of other boards, where some shall be used up first. */
  cost: z
    .number()
    .positive()
    .max(1000)
    .exactOptional()
    .describe('what its area counts beside that of other boards; 1, an off-cut 0.5 when left out'),
  /** How many boards like this there are; copies are named id-2, id-3 … */
  count: z.number().int().min(1).max(100).default(1),
});

/** A cutter as measured. */
export const JobCutterSchema = z.strictObject({
  id: name,
  number: z.number().int().min(1),
  kind: z.enum(['router', 'drill']).default('router'),
  diameter: PositiveLengthSchema,
  flutes: z.number().int().min(1).default(2),
  fluteLength: PositiveLengthSchema.default(25),
  upCutLength: PositiveLengthSchema.nullable().default(null),
  rpm: z.number().positive(),
  chipLoad: PositiveLengthSchema.exactOptional().describe(
    'feed a tooth; by the table of feeds, for its diameter, the sheet and its deepest pass, when left out',
  ),
  depthPerPass: PositiveLengthSchema,
  rampDegrees: z.number().positive().max(45).default(5),
  /** Of a drill: the angle that its point encloses; flat or with a centre spur when left out. */
  pointDegrees: z.number().min(60).max(180).optional(),
  /** From its tip to the face of its holder, as it is clamped. */
  stickOut: PositiveLengthSchema.exactOptional().describe(
    'from its tip to the face of its holder, as it is clamped; the holder is not asked about when left out',
  ),
  /** Radius of that holder with its nut. */
  holderRadius: PositiveLengthSchema.exactOptional().describe('radius of that holder with its nut'),
});

const range = z.tuple([LengthSchema, LengthSchema]);

/** The machine and the post-processor that writes for it. */
export const JobMachineSchema = z.strictObject({
  name: z.string().default('router'),
  post: z.string().default('@haunch/post-rs274ngc'),
  postOptions: z.record(z.string(), z.unknown()).default({}),
  envelope: z
    .strictObject({ x: range, y: range, z: range })
    .default({ x: [-20, 2600], y: [-20, 1300], z: [-40, 120] }),
  clearance: PositiveLengthSchema.default(10),
  rapidRate: z.number().positive().default(15_000),
  maxFeed: z.number().positive().default(8_000),
  maxRpm: z.number().positive().default(24_000),
  acceleration: z.number().positive().default(1_000),
  zZero: z.enum(['top', 'bed']).default('bed'),
  spoilboard: NonNegativeLengthSchema.default(0.5),
  spinUp: z.number().min(0).default(5),
  /** Whether a program can have it change cutters; without, every cutter has a program of its own. */
  changer: z
    .boolean()
    .default(true)
    .describe('whether a program can change cutters; else every cutter has a program of its own'),
  /** The work offset that is set to the board's corner: 1 for G54 to 6 for G59. */
  workOffset: z
    .number()
    .int()
    .min(1)
    .max(6)
    .default(1)
    .describe("the work offset that is set to the board's corner, 1 for G54 to 6 for G59"),
  secondOffset: z
    .number()
    .int()
    .min(1)
    .max(6)
    .exactOptional()
    .describe(
      'a second work offset whose Z zero is set on the other side of the sheet than zZero says: features of the top face are cut from the top, cuts through the sheet from the bed',
    ),
  /** `known`: the machine knows every cutter's length; `touched off`: Z zero is set anew with each, and the program waits for it. */
  toolLength: z
    .enum(['known', 'touched off'])
    .default('known')
    .describe('whether the machine knows the length of every cutter, or Z zero is set anew with each'),
  /** Radius of what travels low round the cutter: it keeps off screws and clamps too. */
  hoodRadius: NonNegativeLengthSchema.exactOptional().describe(
    'radius of what travels low round the cutter (hood, collet nut): it keeps off keep-outs too',
  ),
  /** Power of the spindle at its cutting speed, W. */
  power: z.number().positive().max(100_000).exactOptional().describe('power of the spindle, W'),
  calibration: JobCalibrationSchema.optional(),
});

/** How tight joints shall be. */
export const JobFitSchema = z.strictObject({
  family: z.enum(['drive', 'snug', 'slip']).default('snug'),
  /** The shop's fits, a `haunch-fits` file beside the job; `haunch-fits.json` when left out and there is one. */
  table: z.string().min(1).optional(),
  /** Total clearance of plate in slot; the family's aim when left out. */
  clearance: LengthSchema.optional(),
  /** Total clearance of a tenon's width in its mortise's length. */
  ends: LengthSchema.optional(),
  /** Clearance where laps bottom on each other. */
  seat: LengthSchema.optional(),
  /** What single joints want more (or, negative, less) than their family, by mate id: added to what was felt in the ladder. */
  perJoint: z.record(z.string(), LengthSchema).default({}),
  /** A finish: the film on one face, and whether the walls of slots get it too. */
  finish: z
    .strictObject({ film: PositiveLengthSchema, slots: z.enum(['masked', 'coated']).default('masked') })
    .optional(),
  /** What sanding before assembly takes off one face. */
  sanding: NonNegativeLengthSchema.optional(),
  /** Moisture content of the sheet in the shop and where the piece will stand, per cent. */
  moisture: z.strictObject({ shop: z.number().min(0).max(30), home: z.number().min(0).max(30) }).optional(),
  /** `equal`: joints that go home together get more room, so that every move takes the same knock. */
  knock: z.enum(['as is', 'equal']).default('as is'),
});

/** Corner relief: its form, and how far the sharp corner lies inside it. */
export const JobReliefSchema = z.strictObject({
  form: z.enum(['diagonal', 'along the wall', 'least', 'none']).default('diagonal'),
  surplus: NonNegativeLengthSchema.default(0.1),
});

/** How parts are held until they are lifted off. */
export const JobHoldingSchema = z.strictObject({
  tabWidth: PositiveLengthSchema.default(8),
  tabHeight: PositiveLengthSchema.default(3),
  tabSpacing: PositiveLengthSchema.default(500),
  fewestTabs: z.number().int().min(1).default(2),
  skin: z
    .strictObject({ thickness: PositiveLengthSchema.default(0.5) })
    .exactOptional()
    .describe('a skin under every loose piece instead of tabs, cut through last, the smallest piece first'),
  tabStrength: z
    .number()
    .positive()
    .max(200)
    .exactOptional()
    .describe('shear strength of a tab as the shop has tried it, N/mm²; assumed when left out'),
  screwStrength: z
    .number()
    .positive()
    .max(5000)
    .exactOptional()
    .describe('what one screw bears across itself as the shop has tried it, N; 300 N assumed when left out'),
  clearSlugsBelow: NonNegativeLengthSchema.default(10),
  /** Vacuum under the sheet. */
  vacuum: z
    .strictObject({
      pressure: z
        .number()
        .positive()
        .max(101, 'a vacuum pulls with no more than the air presses, 101 kPa')
        .describe('difference under a freed part, kPa'),
      friction: z
        .number()
        .positive()
        .max(1.5)
        .exactOptional()
        .describe('of a part on the bed; 0.3 when left out'),
      areas: z
        .array(rectangle)
        .min(1)
        .exactOptional()
        .describe('where the bed sucks: [x0, y0, x1, y1]; everywhere when left out'),
    })
    .exactOptional()
    .describe('vacuum under the sheet'),
});

/** Where the program waits for the operator. */
export const JobPausesSchema = z.strictObject({
  /** After the first mortise of each clearance on every board, so that the plug can be tried in it. */
  plug: z
    .boolean()
    .default(false)
    .describe('after the first mortise of each clearance on every board, to try the plug in it'),
});

/** How walls are cut, beyond what the cutters say. */
export const JobCuttingSchema = z.strictObject({
  table: z
    .string()
    .min(1)
    .exactOptional()
    .describe(
      "the shop's feeds, a `haunch-feeds` file beside the job; `haunch-feeds.json` when left out and there is one",
    ),
  finishStock: NonNegativeLengthSchema.exactOptional().describe(
    'what roughing leaves on walls that another plate touches, for one pass at full depth; 0.3 mm when left out, 0 for none',
  ),
  direction: z
    .enum(['climb', 'conventional'])
    .exactOptional()
    .describe('of every wall; by wall and material when left out'),
});

/** Texts engraved in the parts. */
export const JobEngravingSchema = z.strictObject({
  cutter: name.describe('the router that engraves'),
  depth: PositiveLengthSchema.default(0.4),
  height: PositiveLengthSchema.exactOptional().describe('of the letters; ten times the cutter when left out'),
  texts: z
    .record(z.string(), z.string().max(40))
    .exactOptional()
    .describe('the text of single items; their names for all others, none where it is empty'),
});

/** Where a part lies, said by a person: on which board, turned how, and where its lower left corner is. */
export const JobPlacementSchema = z.strictObject({
  board: z.string().describe('id of the board; of several alike, of one of them'),
  at: place.describe('lower left corner of the box round the part as it lies, on its board'),
  turnDegrees: z
    .number()
    .min(-360)
    .max(360)
    .default(0)
    .describe('how the part, as it is drawn, is turned on the board, counter-clockwise'),
});

/** How parts are laid out. */
export const JobLaySchema = z.strictObject({
  edgeMargin: NonNegativeLengthSchema.default(10),
  /** Material left standing between the kerfs of two parts: spacing between parts = 2 × cutter + web. */
  web: NonNegativeLengthSchema.default(4),
  /** Counted work: placements tried before the best layout so far is taken. */
  effort: z.number().int().min(1).max(10_000_000).default(4_000),
  /** Counted work: moves of overlapping parts by which that layout is then improved; 0 leaves it. */
  improve: z
    .number()
    .int()
    .min(0)
    .max(100_000_000)
    .default(1_000)
    .describe('moves of overlapping parts by which the layout is then improved; 0 leaves it as it is'),
  /** Takes the layout that is there after so many of these moves. */
  stopAfter: z
    .number()
    .int()
    .min(0)
    .exactOptional()
    .describe('takes the layout that is there after so many of these moves, as somebody did who watched'),
  /** How what remains of a board is told. */
  offCuts: z
    .enum(['rectangles', 'joined'])
    .exactOptional()
    .describe(
      'how what remains of a board is told: as rectangles, which straight cuts free and a day book knows, or two that touch joined to one board (an L), where parts may then lie across; rectangles when left out',
    ),
  /** Parts that a person has laid, by part id: they stay where they are, and all others are laid round them. */
  placements: z
    .record(z.string(), JobPlacementSchema)
    .default({})
    .describe(
      'parts that a person has laid, by part id: they stay there, and all others are laid round them',
    ),
});

/** The job file, `haunch-job` version 1. Lengths may be numbers (mm) or text with a unit. */
export const JobSchema = z.strictObject({
  format: z.literal('haunch-job'),
  version: z.literal(1),
  title: z.string(),
  seed: z.number().int().min(0).default(1),
  pieces: z.array(JobPieceSchema).min(1),
  boards: z.array(JobBoardSchema).min(1),
  cutters: z.array(JobCutterSchema).min(1),
  machine: JobMachineSchema.prefault({}),
  fit: JobFitSchema.prefault({}),
  ladder: JobLadderSchema.optional(),
  relief: JobReliefSchema.prefault({}),
  holding: JobHoldingSchema.prefault({}),
  lay: JobLaySchema.prefault({}),
  pauses: JobPausesSchema.prefault({}),
  cutting: JobCuttingSchema.prefault({}),
  engraving: JobEngravingSchema.exactOptional(),
  paper: JobPaperSchema.prefault({}),
});

/** A job file after reading: every length in mm, every default filled in. */
export type JobFile = z.output<typeof JobSchema>;
/** A thickness reading of a job, read. mm. */
export type JobReading = z.output<typeof JobReadingSchema>;
/** Where an off-cut lay in its sheet, read. mm, degrees. */
export type JobOffCut = z.output<typeof JobOffCutSchema>;
/** A corner of a board's outline, read. mm. */
export type JobCorner = z.output<typeof JobCornerSchema>;
/** A board of a job, read. mm. */
export type JobBoard = z.output<typeof JobBoardSchema>;
/** Where a part lies, read. mm, degrees. */
export type JobPlacement = z.output<typeof JobPlacementSchema>;
/** A piece of a job, read. */
export type JobPiece = z.output<typeof JobPieceSchema>;
