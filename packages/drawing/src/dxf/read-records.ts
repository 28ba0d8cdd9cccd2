import type { Diagnostic } from '@haunch/model';
import {
  badGroupCode,
  noSize,
  notDxf,
  notFlat,
  outsideSection,
  paperSpace,
  type Tally,
  truncated,
  unknownEntity,
} from '../diagnostics.js';
import type { DrawingLayer, Entity } from '../drawing.js';
import { ENTITY_READERS } from './entity-readers.js';
import { GroupCursor } from './group-cursor.js';
import { decodeEscapes } from './plain-text.js';
import { RecordStream } from './record-stream.js';
import type { Tags } from './tags.js';

/** All that the records of a DXF say, in drawing units, unrounded. */
export interface DxfContents {
  readonly version: string;
  /** $INSUNITS; null where the header does not hold it. */
  readonly insunits: number | null;
  /** Comments before the first record. */
  readonly comments: readonly string[];
  readonly layers: readonly DrawingLayer[];
  readonly entities: readonly Entity[];
  readonly diagnostics: readonly Diagnostic[];
}

/** After so many errors the file is not worth reading on. */
const ENOUGH_ERRORS = 20;
const FROZEN = 1;

interface Count {
  count: number;
  readonly first: { readonly line: number; readonly handle: string | null };
  readonly blocks: Set<string>;
}

/** Counts what is left out, by reason and type, in the order of first sight. */
class LeftOutTally {
  readonly #counts = new Map<string, Map<string, Count>>();

  add(reason: string, type: string, t: Tags): void {
    const types = this.#counts.get(reason) ?? new Map<string, Count>();
    this.#counts.set(reason, types);
    const c = types.get(type) ?? {
      count: 0,
      first: { line: t.line, handle: t.handle },
      blocks: new Set<string>(),
    };
    types.set(type, c);
    c.count++;
    if (type === 'INSERT') c.blocks.add(decodeEscapes(t.text(2)).trim());
  }

  say(reason: string, make: (type: string, t: Tally, blocks: readonly string[]) => Diagnostic): Diagnostic[] {
    return [...(this.#counts.get(reason) ?? [])].map(([type, c]) => {
      const names = [...c.blocks];
      const few = names.length > 4 ? [...names.slice(0, 3), `… ${names.length - 3} more`] : names;
      return make(type, c, few);
    });
  }
}

function headerVariables(t: Tags): ReadonlyMap<string, string> {
  const out = new Map<string, string>();
  for (let i = 0; i + 1 < t.codes.length; i++)
    if (t.codes[i] === 9) out.set(t.values[i]!.trim(), t.values[i + 1]!.trim());
  return out;
}

function layerOf(t: Tags): DrawingLayer {
  const colour = t.integerOr(62, 7);
  return {
    name: decodeEscapes(t.text(2)).trim(),
    off: colour < 0,
    frozen: (t.integerOr(70, 0) & FROZEN) !== 0,
    colour: Math.abs(colour),
  };
}

/** Walks the sections of a text DXF. Whatever cannot be read is reported with its line; never throws. */
export function readRecords(text: string, file: string): DxfContents {
  const diagnostics: Diagnostic[] = [];
  let errors = 0;
  const report = (d: Diagnostic) => {
    if (d.level === 'error') errors++;
    if (d.level !== 'error' || errors <= ENOUGH_ERRORS) diagnostics.push(d);
  };
  const cursor = new GroupCursor(text);
  const records = new RecordStream(cursor, file, report);
  const entities: Entity[] = [];
  const layers = new Map<string, DrawingLayer>();
  const tally = new LeftOutTally();
  let version = 'unknown';
  let insunits: number | null = null;
  let section: string | null = null;
  let sections = 0;
  let outside = false;
  let complete = false;

  for (let type = records.peek(); type !== null && errors < ENOUGH_ERRORS; type = records.peek()) {
    if (type === 'EOF') {
      complete = true;
      break;
    }
    if (type === 'SECTION') {
      const t = records.take();
      sections++;
      section = t.text(2).trim().toUpperCase();
      if (section === 'HEADER') {
        const header = headerVariables(t);
        version = header.get('$ACADVER') || version;
        const unit = header.get('$INSUNITS');
        if (unit !== undefined && /^\d{1,3}$/.test(unit)) insunits = Number(unit);
      }
    } else if (type === 'ENDSEC') {
      section = null;
      records.skip();
    } else if (section === 'TABLES' && type === 'LAYER') {
      const layer = layerOf(records.take());
      if (layer.name !== '' && !layers.has(layer.name)) layers.set(layer.name, layer);
    } else if (section === 'ENTITIES' || (section === null && ENTITY_READERS.has(type))) {
      if (section === null && !outside) {
        outside = true;
        report(outsideSection(file, records.line, type));
      }
      readEntity(records, type, entities, tally, () => errors);
    } else records.skip();
  }

  if (!complete && errors < ENOUGH_ERRORS) {
    if (sections === 0 && entities.length === 0) report(notADxf(text, file));
    else if (cursor.end === 'bad group code') report(badGroupCode(file, cursor.line, cursor.badCode));
    else report(truncated(file, cursor.linesRead, records.last));
  } else if (complete && sections === 0 && entities.length === 0) report(notADxf(text, file));

  for (const d of [
    ...tally.say('unknown', (type, t, blocks) => unknownEntity(file, type, t, blocks)),
    ...tally.say('not flat', (type, t) => notFlat(file, type, t)),
    ...tally.say('no size', (type, t) => noSize(file, type, t)),
    ...tally.say('hidden', (_, t) => paperSpace(file, t)),
  ])
    report(d);
  return {
    version,
    insunits,
    comments: records.comments,
    layers: [...layers.values()],
    entities,
    diagnostics,
  };
}

function readEntity(
  records: RecordStream,
  type: string,
  entities: Entity[],
  tally: LeftOutTally,
  errors: () => number,
): void {
  const tags = records.take();
  const reader = ENTITY_READERS.get(type);
  // SEQEND only closes the attributes of an INSERT; it is no entity of its own.
  if (type === 'SEQEND') return;
  if (reader === undefined) {
    tally.add('unknown', type, tags);
    return;
  }
  // The file broke off or went wrong inside this entity, which is said of the file.
  if (records.peek() === null) return;
  const before = errors();
  const hidden = tags.integerOr(67, 0) === 1 || tags.integerOr(60, 0) === 1;
  const entity = reader(tags, records);
  if (errors() > before) return;
  if (hidden) tally.add('hidden', 'any', tags);
  else if (typeof entity === 'string') tally.add(entity, type, tags);
  else entities.push(entity);
}

function notADxf(text: string, file: string): Diagnostic {
  const head = text.slice(0, 200).trim();
  if (head === '') return notDxf(file, 'nothing');
  if (/^AC10\d\d/.test(head)) return notDxf(file, 'binary drawing');
  if (head.startsWith('<')) return notDxf(file, 'xml');
  return notDxf(file, head.startsWith('%PDF') ? 'pdf' : 'other');
}
