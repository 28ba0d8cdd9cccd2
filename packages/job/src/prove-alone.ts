import { findParts, readDxf } from '@haunch/drawing';
import { type Box, loadClip, rectangleRing, ringArea, ringBounds } from '@haunch/geometry';
import { defaultAllowances, findJoints, fitParts, readMaster, refitMaster } from '@haunch/joinery';
import {
  type Board,
  type Cutter,
  type Diagnostic,
  fail,
  type Holding,
  type Joint,
  type Machine,
  type Master,
  type Outcome,
  ok,
  type Part,
  partOnTable,
} from '@haunch/model';
import { type NcReading, readProgram } from '@haunch/nc/read';
import { type Alignment, alignmentRule, alignParts, proveProgram, whereSweepable } from '@haunch/proof';
import {
  dialectUnsaid,
  matesOpen,
  noSheetThickness,
  noThickness,
  noTools,
  nothingAligned,
  partsElsewhere,
  strangePiece,
  unknownPart,
  zZeroTaken,
} from './diagnostics.js';
import { findMasterFile } from './find-master-file.js';
import { JobHoldingSchema, JobMachineSchema } from './job-schema.js';
import { likelyDialect } from './likely-dialect.js';
import { readingProblems } from './program-file.js';
import { type ProgramText, resultOf } from './prove-against.js';
import type { MatesFor, ProveFacts, ProvenText } from './prove-facts.js';
import type { ProveResult } from './report-schema.js';
import { edgeTolerances } from './sheet-follows.js';

/** A file by its content and name. */
interface Source {
  readonly content: string | Uint8Array;
  readonly file: string;
}

/** What a program is proved against, with what of it nobody can judge. */
interface Wanted {
  /** As they lie on the table. */
  readonly parts: readonly Part[];
  readonly thickness: number;
  readonly joints: readonly Joint[];
  readonly thicknesses: Readonly<Record<string, number>>;
  readonly edgeTolerances?: Readonly<Record<string, number>>;
  /** Whether the parts lie as in a layout. */
  readonly layout: boolean;
  /** Parts that this very program must cut. */
  readonly all: readonly string[];
}

/** Rules whose facts (reach, keep-outs, limits, the cutter's passes and ramp) no drawing and no master holds. */
const UNKNOWN: readonly string[] = ['P05', 'P07', 'P14', 'P18', 'P19', 'P20'];
/** Where no mates are known, no edge is known to meet another part either. */
const WITHOUT_MATES: readonly string[] = ['P13'];
/** Rules that ask how parts hang and come free, when tabs do not hold them. */
const WITHOUT_TABS: readonly string[] = ['P11', 'P12', 'P13'];

/** Room left round the parts where no board is known, mm: wider than any cutter. */
const ROOM = 100;
/** How far the sharp corner of a relief lies inside it, mm; the job's usual surplus. */
const SURPLUS = 0.1;

const around = (parts: readonly Part[]): Box =>
  parts
    .map((p) => ringBounds(p.outline.ring))
    .reduce((a, b) => ({
      minX: Math.min(a.minX, b.minX),
      minY: Math.min(a.minY, b.minY),
      maxX: Math.max(a.maxX, b.maxX),
      maxY: Math.max(a.maxY, b.maxY),
    }));

/** The tools that a reading calls; 1 where it calls none. */
function toolsOf(reading: NcReading): number[] {
  const numbers = new Set<number>();
  for (const m of reading.moves) if ('tool' in m && m.tool !== null) numbers.add(m.tool);
  return numbers.size === 0 ? [1] : [...numbers].sort((a, b) => a - b);
}

/** Tools that only ever go straight down at feed are drills. */
function drillsOf(reading: NcReading, top: number): Set<number> {
  const routers = new Set<number>();
  const used = new Set<number>();
  for (const m of reading.moves) {
    if ((m.kind !== 'linear' && m.kind !== 'arc') || m.tool === null) continue;
    if (Math.min(m.from.z, m.to.z) >= top) continue;
    used.add(m.tool);
    if (m.kind === 'arc' || m.from.x !== m.to.x || m.from.y !== m.to.y) routers.add(m.tool);
  }
  return new Set([...used].filter((t) => !routers.has(t)));
}

interface Setting {
  readonly reading: NcReading;
  readonly cutters: readonly Cutter[];
  readonly machine: Machine;
  readonly said: readonly Diagnostic[];
}

/** The cutters and the machine that a program is judged with, as far as they are known. */
function settingOf(program: ProgramText, facts: ProveFacts, thickness: number): Outcome<Setting> {
  const { meaning } = facts.dialect ?? {};
  const reading = readProgram(program.text, {
    file: program.file,
    ...(meaning === undefined ? {} : { meaning }),
  });
  const first = reading.diagnostics.find((d) => d.level === 'error');
  if (facts.dialect === undefined && first !== undefined) {
    const likely = likelyDialect(program.text);
    if (likely !== null) return fail(first, dialectUnsaid(program.file, first.locus.line, likely));
  }
  const numbers = toolsOf(reading);
  const unknown = numbers.filter((n) => !facts.cutters.has(n) && !facts.cutters.has('any'));
  if (unknown.length > 0) return fail(noTools(program.file, unknown));
  const said: Diagnostic[] = [];
  let zZero = facts.zZero;
  if (zZero === undefined) {
    // A cut through the sheet ends near −thickness from the top, near 0 from the bed.
    let deepest = 0;
    for (const m of reading.moves) if ('to' in m) deepest = Math.min(deepest, m.to.z);
    zZero = deepest < -thickness / 2 ? 'top' : 'bed';
    said.push(zZeroTaken(program.file, zZero, deepest));
  }
  const {
    post: _post,
    postOptions: _options,
    calibration: _calibration,
    ...usual
  } = JobMachineSchema.parse({});
  const machine: Machine = {
    ...usual,
    ...(facts.travelHeight === undefined ? {} : { clearance: facts.travelHeight }),
    zZero,
    envelope: { x: [-1e5, 1e5], y: [-1e5, 1e5], z: [-thickness - 50, 1e4] },
  };
  const drills = drillsOf(reading, zZero === 'top' ? 0 : thickness);
  const cutters = numbers.map(
    (number): Cutter => ({
      id: `T${number}`,
      number,
      kind: drills.has(number) ? 'drill' : 'router',
      diameter: facts.cutters.get(number) ?? facts.cutters.get('any')!,
      flutes: 2,
      fluteLength: thickness + 50,
      upCutLength: null,
      rpm: 1,
      chipLoad: 1,
      depthPerPass: thickness,
      rampAngle: Math.PI / 2,
    }),
  );
  return ok({ reading, cutters, machine, said });
}

/** What one can only say of a program by what lies where: judged on the parts where they are cut. */
async function proveWanted(
  program: ProgramText,
  against: string,
  wanted: Wanted,
  { reading, cutters, machine, said }: Setting,
  facts: ProveFacts,
): Promise<Outcome<ProvenText>> {
  const clip = await loadClip();
  const aligned = whereSweepable(program.file, () =>
    onItsSheet(wanted, (parts, thickness) =>
      alignParts({ reading, parts, thickness, cutters, machine, clip, layout: wanted.layout }),
    ),
  );
  if (!aligned.ok) return aligned;
  const { thickness, alignment } = aligned.value;
  if (alignment.found.length === 0)
    return fail(...readingProblems(reading, program.file), nothingAligned(program.file, against));
  const heard: Diagnostic[] = [...said, ...alignment.strange.map((s) => strangePiece(s, program.file))];
  const elsewhere = alignment.lacking.filter((id) => !wanted.all.includes(id));
  if (elsewhere.length > 0) heard.push(partsElsewhere(elsewhere, program.file));
  const box = around(alignment.found.map((f) => f.part));
  const board: Board = {
    id: against,
    stock: against,
    outline: rectangleRing(box.minX - ROOM, box.minY - ROOM, box.maxX + ROOM, box.maxY + ROOM),
    thickness,
    readings: [{ thickness }],
    grain: null,
    keepOuts: [],
  };
  const holding: Holding = JobHoldingSchema.parse({});
  const { meaning } = facts.dialect ?? {};
  const scene = {
    text: program.text,
    ...(meaning === undefined ? {} : { meaning }),
    board,
    items: alignment.found.map(({ item, piece, part }) => ({ item, piece, part })),
    cutters,
    machine,
  };
  const proved = proveProgram({
    ...scene,
    file: program.file,
    zeroAnywhere: true,
    joints: wanted.joints,
    thicknesses: wanted.thicknesses,
    ...(wanted.edgeTolerances === undefined ? {} : { edgeTolerances: wanted.edgeTolerances }),
    holding,
    clip,
  });
  if (!proved.ok) return proved;
  const all = [...heard, ...proved.diagnostics];
  const result = resultOf(program, against, proved.value, all);
  const unknown = new Set([
    ...UNKNOWN,
    ...(wanted.joints.length === 0 ? WITHOUT_MATES : []),
    ...(facts.held === 'otherwise' ? WITHOUT_TABS : []),
  ]);
  const rules = [
    ...result.rules.map((r) =>
      unknown.has(r.rule) ? { ...r, verdict: 'not judged' as const, margin: null, findings: [] } : r,
    ),
    ruleOf(alignment, wanted),
  ];
  const pass = rules.every((r) => r.verdict !== 'fail');
  return ok({ result: { ...result, pass, rules, alignment: alignmentOf(alignment) }, scene }, all);
}

/** Tries the parts of each thickness on a sheet of it; those of which most is found say which sheet is cut. */
function onItsSheet(
  { parts, thickness, thicknesses }: Wanted,
  align: (parts: readonly Part[], thickness: number) => Alignment,
): { readonly thickness: number; readonly alignment: Alignment } {
  const of = (p: Part): number => thicknesses[p.id] ?? thickness;
  const tried = [...new Set([thickness, ...parts.map(of)])].flatMap((t) => {
    const mine = parts.filter((p) => of(p) === t);
    return mine.length === 0 ? [] : [{ thickness: t, alignment: align(mine, t) }];
  });
  const area = ({ alignment }: (typeof tried)[number]): number =>
    alignment.found.reduce((sum, f) => sum + f.share * Math.abs(ringArea(f.part.outline.ring)), 0);
  const best = tried.reduce((a, b) => (area(b) > area(a) ? b : a));
  const found = new Set(best.alignment.found.map((f) => f.part.id));
  const lacking = parts.flatMap((p) => (found.has(p.id) ? [] : [p.id]));
  return { ...best, alignment: { ...best.alignment, lacking } };
}

const ruleOf = (alignment: Alignment, { all }: Wanted): ProveResult['rules'][number] => {
  const rule = alignmentRule(alignment, all);
  return { ...rule, findings: [...rule.findings] };
};

const degrees = (turn: number): number => Math.round(((turn * 180) / Math.PI) * 1e4) / 1e4;

const alignmentOf = ({
  layout,
  found,
  lacking,
  strange,
}: Alignment): NonNullable<ProveResult['alignment']> => ({
  layout: layout && { x: layout.dx, y: layout.dy, turnDegrees: degrees(layout.turn) },
  parts: found.map(({ item, part, motion, by, share }) => ({
    item,
    part: part.id,
    x: motion.dx,
    y: motion.dy,
    turnDegrees: degrees(motion.turn),
    mirrored: motion.mirror,
    by,
    share: Math.round(share * 1e4) / 1e4,
  })),
  lacking: [...lacking],
  strange: strange.map(({ at, width, height, area }) => ({ at, width, height, area: Math.round(area) })),
});

/** The parts of a master at the real thickness of the sheet, with clearances and reliefs, and its joints. */
function wantedOfMaster(
  master: Master,
  file: string,
  facts: ProveFacts & { readonly thickness: number },
  router: number,
): Outcome<Wanted> {
  const { thickness, partThickness = {}, fit = 'snug', clearance, relief = 'diagonal' } = facts;
  const ids = master.parts.map((p) => p.id);
  const unknown = Object.keys(partThickness).filter((id) => !ids.includes(id));
  if (unknown.length > 0) return fail(...unknown.map((id) => unknownPart(id, ids, file)));
  const thicknesses = Object.fromEntries(ids.map((id) => [id, partThickness[id] ?? thickness]));
  const refitted = refitMaster(master, { thicknesses });
  if (!refitted.ok) return refitted;
  const joinery = findJoints(refitted.value, defaultAllowances(fit, clearance));
  if (!joinery.ok) return joinery;
  const parts = fitParts(refitted.value, joinery.value, {
    relief:
      relief === 'none' ? null : { form: relief, surplus: Math.min(SURPLUS, router / 2), radius: router },
  });
  if (!parts.ok) return parts;
  return ok(
    {
      parts: parts.value.map(partOnTable),
      thickness,
      joints: joinery.value.joints,
      thicknesses,
      edgeTolerances: edgeTolerances(refitted.value, joinery.value, parts.value),
      layout: false,
      all: [],
    },
    [...refitted.diagnostics, ...joinery.diagnostics, ...parts.diagnostics],
  );
}

/** Radius of the cutter that runs the longest way, by which corners are relieved. */
function mainRadius({ reading, cutters }: Setting): number {
  const way = new Map<number, number>();
  for (const m of reading.moves)
    if (m.kind === 'linear' || m.kind === 'arc') {
      const number = m.tool ?? cutters[0]!.number;
      way.set(number, (way.get(number) ?? 0) + Math.hypot(m.to.x - m.from.x, m.to.y - m.from.y));
    }
  const routers = cutters.filter((c) => c.kind === 'router');
  const [most] = [...(routers.length > 0 ? routers : cutters)].sort(
    (a, b) => (way.get(b.number) ?? 0) - (way.get(a.number) ?? 0) || a.number - b.number,
  );
  return most!.diameter / 2;
}

/**
 * Proves any program against a master: its parts, refitted to the thickness of the sheet and with the fit's clearances, are
 * found in the program, wherever and however turned they are cut, and all joints whose slots it cuts are judged. mm
 */
export async function proveAgainstMaster(
  program: ProgramText,
  source: Source,
  facts: ProveFacts,
): Promise<Outcome<ProvenText>> {
  const { content, file } = source;
  const master = readMaster(typeof content === 'string' ? content : new TextDecoder().decode(content), file);
  if (!master.ok) return master;
  return proveByMaster(program, master.value, file, { facts, all: [], said: master.diagnostics });
}

async function proveByMaster(
  program: ProgramText,
  master: Master,
  file: string,
  {
    facts,
    all,
    said,
  }: { readonly facts: ProveFacts; readonly all: readonly string[]; readonly said: readonly Diagnostic[] },
): Promise<Outcome<ProvenText>> {
  const { thickness } = facts;
  if (thickness === undefined) return fail(noSheetThickness(file));
  const setting = settingOf(program, facts, thickness);
  if (!setting.ok) return setting;
  const wanted = wantedOfMaster(master, file, { ...facts, thickness }, mainRadius(setting.value));
  if (!wanted.ok) return wanted;
  const heard = { ...setting.value, said: [...said, ...wanted.diagnostics, ...setting.value.said] };
  return proveWanted(program, file, { ...wanted.value, all }, heard, facts);
}

/**
 * Proves a program against a drawing of the parts: a layout, however its origin and turn differ from the program's, or parts
 * drawn anyhow. Which part enters which slot is not in a drawing, so joints stay unknown, unless `mates` says that
 * they are to be found in it, or gives a master with them. mm
 */
export async function proveAgainstDrawing(
  program: ProgramText,
  drawing: Source,
  facts: ProveFacts,
  mates?: MatesFor,
): Promise<Outcome<ProvenText>> {
  const read = readDxf(drawing.content, { file: drawing.file });
  if (!read.ok) return read;
  const found = findParts(read.value, facts.thickness === undefined ? {} : { thickness: facts.thickness });
  if (!found.ok) return found;
  const parts = found.value;
  const thickness = facts.thickness ?? parts.find((p) => p.thickness !== null)?.thickness;
  if (thickness === undefined || thickness === null) return fail(noThickness(parts[0]!.id, drawing.file));
  const said = [...read.diagnostics, ...found.diagnostics];
  const ids = parts.map((p) => p.id);
  if (mates !== undefined) {
    const master = mates === 'found' ? masterFoundIn(drawing, thickness) : masterIn(mates);
    if (!master.ok) return master;
    const file = mates === 'found' ? drawing.file : mates.file;
    const all = ids.filter((id) => master.value.parts.some((p) => p.id === id));
    return proveByMaster(program, master.value, file, {
      facts: { ...facts, thickness },
      all,
      said: [...said, ...master.diagnostics],
    });
  }
  const setting = settingOf(program, facts, thickness);
  if (!setting.ok) return setting;
  const wanted = { parts, thickness, joints: [], thicknesses: {}, layout: true, all: ids };
  const heard = { ...setting.value, said: [...said, ...setting.value.said] };
  return proveWanted(program, drawing.file, wanted, heard, facts);
}

const masterIn = ({ content, file }: Source): Outcome<Master> =>
  readMaster(typeof content === 'string' ? content : new TextDecoder().decode(content), file);

/** What `haunch mates` calls the second of two ways that differ in nothing that a clearance could tell. */
const MIRRORED = /^the mirror image of the first/;

function masterFoundIn({ content, file }: Source, thickness: number): Outcome<Master> {
  const find = (answers: Readonly<Record<string, number>>) =>
    findMasterFile({ content, file, answers, follows: {}, read: { thickness } });
  const first = find({});
  if (!first.ok) return first;
  // A piece and its mirror image have the same joints, so either will do here.
  const either = first.value.questions.filter((q) => q.choices.length === 2 && MIRRORED.test(q.choices[1]!));
  const found =
    first.value.master === null && either.length > 0
      ? find(Object.fromEntries(either.map((q) => [q.id, 1])))
      : first;
  if (!found.ok) return found;
  const { master, unanswered } = found.value;
  return master ? ok(master, found.diagnostics) : fail(...unanswered, matesOpen(file, unanswered.length));
}
