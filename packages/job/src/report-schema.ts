import { z } from 'zod';
import { NumberSourceSchema } from './fit-table-schema.js';

const mm = z.number().describe('millimetres');
const point = z.strictObject({ x: mm, y: mm });

/** A diagnostic as it appears in every machine-readable output. */
export const DiagnosticSchema = z.strictObject({
  kind: z.literal('diagnostic'),
  code: z.string(),
  level: z.enum(['error', 'warning', 'note']),
  stage: z.string(),
  message: z.string(),
  locus: z.strictObject({
    file: z.string().optional(),
    line: z.number().int().optional(),
    handle: z.string().optional(),
    path: z.string().optional(),
    part: z.string().optional(),
    feature: z.string().optional(),
    joint: z.string().optional(),
    board: z.string().optional(),
    at: point.optional(),
  }),
  hint: z.string(),
});

const verdict = z.enum(['as wanted', 'tight', 'slack', 'blocked', 'unknown']);

/** One place where two parts meet, as cut. */
export const FitProofSchema = z.strictObject({
  fit: z.string(),
  kind: z.enum(['thickness', 'ends', 'seat']),
  slotPart: z.string(),
  enteringPart: z.string(),
  wanted: mm,
  least: mm.nullable(),
  most: mm.nullable(),
  width: mm.nullable(),
  grip: mm
    .optional()
    .describe('of a report: thickness of the entering plate where it is gripped, by which the slot was cut'),
  standing: mm,
  verdict,
  lines: z.array(z.number().int()),
  programs: z
    .array(z.string())
    .readonly()
    .optional()
    .describe('of each line, where several programs are run one after the other on one board'),
  basis: z.enum(['as cut', 'partner as drawn']),
  along: z
    .array(z.strictObject({ at: mm, width: mm }))
    .readonly()
    .exactOptional()
    .describe('as-cut width at places along the first wall, from its start'),
  tenon: z
    .strictObject({ least: mm, most: mm })
    .exactOptional()
    .describe('as-cut size of the tenon between the walls'),
  depth: z.strictObject({ least: mm, most: mm }).exactOptional().describe('as-cut depth of the housing'),
  plate: z
    .strictObject({ thickness: mm, from: z.enum(['board map', 'plate']) })
    .exactOptional()
    .describe('the thickness that the clearance counts with, and where it is from'),
});

/** A joint as cut. */
export const JointProofSchema = z.strictObject({
  joint: z.string(),
  type: z.string(),
  slotPart: z.string(),
  enteringPart: z.string(),
  verdict,
  wanted: mm.nullable(),
  clearance: mm.nullable(),
  fits: z.array(FitProofSchema),
});

/** One thing that a rule found. */
export const FindingSchema = z.strictObject({
  message: z.string(),
  line: z.number().int().optional(),
  program: z
    .string()
    .optional()
    .describe('that the line is of, where several are run one after the other on one board'),
  part: z.string().optional(),
  feature: z.string().optional(),
  joint: z.string().optional(),
  jointDistance: mm.optional(),
  at: point.optional(),
  amount: z.number().optional(),
});

/** A numbered rule and its verdict. */
export const RuleResultSchema = z.strictObject({
  rule: z.string(),
  title: z.string(),
  verdict: z.enum(['pass', 'fail', 'not judged']),
  margin: z.number().nullable(),
  unit: z.string(),
  findings: z.array(FindingSchema),
});

/** What `haunch prove --json` prints. */
export const ProveResultSchema = z.strictObject({
  format: z.literal('haunch-proof'),
  version: z.literal(1),
  program: z.string(),
  against: z.string(),
  board: z.string(),
  pass: z.boolean(),
  blocks: z.number().int(),
  seconds: z.number(),
  rules: z.array(RuleResultSchema),
  parts: z.array(
    z.strictObject({
      part: z.string(),
      cut: z.boolean(),
      gouge: mm,
      excess: mm,
      tabs: z.number().int(),
      tabsWanted: z.number().int(),
    }),
  ),
  joints: z.array(JointProofSchema),
  alignment: z
    .strictObject({
      layout: z
        .strictObject({ x: mm, y: mm, turnDegrees: z.number() })
        .nullable()
        .describe(
          'the one motion from a layout drawing to the program; null where parts were found one by one',
        ),
      parts: z.array(
        z.strictObject({
          item: z.string(),
          part: z.string(),
          x: mm,
          y: mm,
          turnDegrees: z.number(),
          mirrored: z.boolean().describe('cut unmirrored: what lies there is its mirror image'),
          by: z.enum(['piece', 'edges']).describe('a piece that comes free, or edges alone'),
          share: z.number().describe('of the contours, along which an edge was cut, 0…1'),
        }),
      ),
      lacking: z.array(z.string()).describe('parts that the program does not cut'),
      strange: z
        .array(z.strictObject({ at: point, width: mm, height: mm, area: z.number().describe('mm²') }))
        .describe('pieces that match no part'),
    })
    .optional()
    .describe('where the parts were found, when no job says where they lie'),
  diagnostics: z.array(DiagnosticSchema),
});

/** The contents of `report.json`, and what `haunch make --json` prints. */
export const ReportSchema = z.strictObject({
  format: z.literal('haunch-report'),
  version: z.literal(1),
  title: z.string(),
  pass: z.boolean(),
  summary: z.string(),
  seconds: z.number().describe('estimated running time of all programs'),
  parts: z.array(
    z.strictObject({
      id: z.string(),
      name: z.string(),
      board: z.string(),
      thickness: mm,
      size: z.tuple([mm, mm]).describe('along u and v of its drawing'),
      area: z.number().describe('mm²'),
      file: z.string(),
      reliefs: z.number().int(),
      gouge: mm,
      excess: mm,
      tabs: z.number().int(),
      tabsWanted: z.number().int(),
    }),
  ),
  boards: z.array(
    z.strictObject({
      id: z.string(),
      stock: z.string(),
      material: z.string().describe('what the board is made of, which ladders and tables of fits speak for'),
      width: mm,
      height: mm,
      thickness: mm,
      map: z.strictObject({
        surface: z.enum(['level', 'plane', 'curved']),
        least: mm,
        most: mm,
        u: mm.describe('standard uncertainty at the middle'),
        goAt: z
          .tuple([mm, mm])
          .describe('a reading at the middle of the loaded sheet between these: go; else stop'),
      }),
      use: z.number().describe('share of the area, 0…1'),
      program: z.string().describe('the first of its programs'),
      programs: z
        .array(
          z.strictObject({
            file: z.string(),
            cutter: z
              .string()
              .nullable()
              .describe('the one in the machine while it runs; null where the program changes cutters'),
            setup: z.array(z.string()).describe('what is set before it is started'),
            pauses: z.array(z.string()).describe('where it waits for the operator, and for what'),
          }),
        )
        .describe('in the order in which they are run'),
      layout: z.string(),
      blocks: z.number().int(),
      seconds: z.number(),
      plannedSeconds: z.number(),
      runs: z
        .array(z.strictObject({ cutter: z.string(), metres: z.number().describe('metres') }))
        .describe('how far each cutter runs at feed in this program'),
      pass: z.boolean(),
      steps: z.array(
        z.strictObject({
          id: z.string(),
          kind: z.string(),
          part: z.string(),
          feature: z.string(),
          cutter: z.string(),
          depth: mm,
          passes: z.number().int(),
          tabs: z.number().int(),
          slug: z.string().nullable(),
          seconds: z.number(),
          spent: z
            .strictObject({
              cutting: z.number(),
              entering: z.number().describe('going down in the wood'),
              air: z.number(),
              change: z.number().describe('of the cutter'),
              dwell: z.number().describe('until the spindle is up to speed'),
            })
            .describe('where the seconds go'),
          program: z.number().int().describe('which of the programs it is in, from 1'),
          line: z.number().int().describe('of that program, at which it begins: a re-entry point'),
        }),
      ),
      rules: z.array(RuleResultSchema),
    }),
  ),
  joints: z.array(JointProofSchema),
  cutters: z.array(
    z.strictObject({
      id: z.string(),
      number: z.number().int(),
      kind: z.string(),
      diameter: mm,
      rpm: z.number(),
    }),
  ),
  fit: z.strictObject({ family: z.string(), thickness: mm, ends: mm, seat: mm }),
  ladder: z.string().describe('what the clearances rest on, in a sentence'),
  machine: z
    .strictObject({
      programs: z.string().nullable().describe('what the job says of correction; null without a calibration'),
      words: z.array(z.string()),
      mates: z
        .array(
          z.strictObject({
            joint: z.string(),
            turned: z.number().describe('angle between the plates’ common line on their boards, radians'),
            length: mm.describe('over which the plates touch along that line'),
            along: mm.describe('how much longer it comes out in the slotted plate, uncorrected'),
            across: mm.describe('how much wider the slot comes out, uncorrected'),
            askew: mm.describe('how far the slot’s end lies aside, uncorrected'),
            backlash: mm.describe('how much narrower at most the slot comes out by backlash'),
          }),
        )
        .describe('what the machine would do to each mate if nothing were done about it'),
    })
    .describe('what the machine’s calibration cut means for the mates'),
  aims: z
    .array(
      z.strictObject({
        joint: z.string(),
        material: z.string().nullable().describe('of the slot'),
        family: mm.describe('what the family asks for in this material'),
        basis: z.enum(['ladder', 'job', 'table']).describe('what the family’s figure rests on'),
        source: NumberSourceSchema.describe('where the figure of the fits comes from'),
        forType: mm.describe('what the fits give this type of joint more'),
        wish: mm.describe('the joint’s own wish, added to its family’s'),
        extras: mm.describe('for finish, sanding and moisture'),
        knock: mm.describe('added by equal knock, towards slack'),
        together: z.number().int().describe('joints that go home in this move'),
        wanted: mm,
      }),
    )
    .describe('how the clearance of each joint’s plate in its slot came about'),
  aimed: z
    .array(z.string())
    .describe('joints cut for another clearance than their family’s, by name and figure'),
  extras: z
    .array(z.string())
    .describe('what slots were widened for beyond the feel: finish, sanding, moisture'),
  forecast: z.strictObject({
    tight: z.number().describe('fits expected to be too tight: they want the sanding block'),
    wanted: z.number(),
    slack: z.number(),
    allWanted: z.number().describe('chance that every fit is as wanted, 0…1'),
    tightRange: z
      .tuple([z.number(), z.number(), z.number()])
      .describe('5 %, median, 95 % of the simulated runs'),
    fits: z.array(
      z.strictObject({
        fit: z.string(),
        clearance: mm,
        u: mm.describe('standard uncertainty'),
        tight: z.number(),
        wanted: z.number(),
        slack: z.number(),
        worstCase: z.tuple([mm, mm]),
        rootSumSquare: z.tuple([mm, mm]),
        monteCarlo: z.tuple([mm, mm]).describe('95.45 of 100 simulated clearances lie between these'),
      }),
    ),
    joints: z
      .array(z.strictObject({ joint: z.string(), tight: z.number(), wanted: z.number(), slack: z.number() }))
      .describe('chances of each joint, simulated: tight if any of its fits is'),
    jointsTight: z.number().describe('joints expected to want the sanding block'),
    jointsTightRange: z
      .tuple([z.number(), z.number(), z.number()])
      .describe('5 %, median, 95 % of the simulated runs'),
    remedies: z.array(z.strictObject({ what: z.string(), expectedOff: z.number(), saved: z.number() })),
  }),
  diagnostics: z.array(DiagnosticSchema),
  cautions: z.array(z.string()),
});

/** A finished report as data. */
export type Report = z.infer<typeof ReportSchema>;
/** A proof of one program as data. */
export type ProveResult = z.infer<typeof ProveResultSchema>;
