import type { Diagnostic } from '@haunch/model';
import {
  badGroupCode,
  codePage,
  dxfLimit,
  noEnd,
  notDxf,
  outsideSection,
  truncated,
  wrongEncoding,
} from '../diagnostics.js';
import type { DrawingLayer, Entity } from '../drawing.js';
import { DrawnSpace, ENOUGH_ERRORS } from './drawn-space.js';
import { ENTITY_READERS } from './entity-readers.js';
import { type Block, blockKey, expandBlocks, mostFromBlocks } from './expand-blocks.js';
import { openSource } from './open-source.js';
import { decodeEscapes } from './plain-text.js';
import { MOST_GROUPS, RecordStream } from './record-stream.js';
import type { Tags } from './tags.js';

/** All that the records of a DXF say, in drawing units, unrounded. */
export interface DxfContents {
  readonly version: string;
  /** $INSUNITS; null where the header does not hold it. */
  readonly insunits: number | null;
  /** $MEASUREMENT: true metric, false inches; null where the header does not hold it. */
  readonly metric: boolean | null;
  /** Comments before the first record. */
  readonly comments: readonly string[];
  readonly layers: readonly DrawingLayer[];
  readonly entities: readonly Entity[];
  readonly diagnostics: readonly Diagnostic[];
}

const FROZEN = 1;

function headerVariables(t: Tags): ReadonlyMap<string, string> {
  const out = new Map<string, string>();
  for (let i = 0; i + 1 < t.count; i++)
    if (t.codeAt(i) === 9) out.set(t.textAt(i).trim(), t.textAt(i + 1).trim());
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

/** A file may be this large, bytes, and hold so many entities outside of blocks. */
const MOST_BYTES = 2 ** 28;
const MOST_ENTITIES = 1_000_000;

/** Walks the sections of a DXF. Whatever cannot be read is reported with its line; never throws. */
export function readRecords(source: string | Uint8Array, file: string): DxfContents {
  const model = new DrawnSpace();
  const nothing = {
    version: 'unknown',
    insunits: null,
    metric: null,
    comments: [],
    layers: [],
    entities: [],
  };
  if (source.length > MOST_BYTES) {
    const limit = `it has more than ${MOST_BYTES / 2 ** 20} MB`;
    return { ...nothing, diagnostics: [dxfLimit(file, { line: 1, handle: null }, limit)] };
  }
  const { groups, decoding, head } = openSource(source);
  let space = model;
  const records = new RecordStream(groups, file, (d) => space.report(d));
  const layers = new Map<string, DrawingLayer>();
  const frozen = new Set<string>();
  const blocks = new Map<string, Block>();
  let header: ReadonlyMap<string, string> = new Map();
  let section: string | null = null;
  let sections = 0;
  let drawn = false;
  let outside = false;
  let complete = false;
  let limited = false;

  for (let type = records.peek(); type !== null && model.errors < ENOUGH_ERRORS; type = records.peek()) {
    if (records.overflowed) {
      const what = `an entity has more than ${MOST_GROUPS} values`;
      limited = true;
      model.report(dxfLimit(file, { line: records.last?.line ?? 1, handle: null }, what));
      break;
    }
    records.release();
    if (type === 'EOF') {
      complete = true;
      break;
    }
    if (type === 'SECTION') {
      const t = records.take();
      sections++;
      section = t.text(2).trim().toUpperCase();
      space = model;
      if (section === 'HEADER') {
        header = headerVariables(t);
        decoding.follow(header.get('$ACADVER') ?? null, header.get('$DWGCODEPAGE') ?? null);
      }
      if (section === 'ENTITIES') drawn = true;
    } else if (type === 'ENDSEC') {
      section = null;
      space = model;
      records.skip();
    } else if (section === 'TABLES' && type === 'LAYER') {
      const layer = layerOf(records.take());
      if (layer.name !== '' && !layers.has(layer.name)) layers.set(layer.name, layer);
      if (layer.frozen) frozen.add(layer.name.toUpperCase());
    } else if (section === 'BLOCKS' && type === 'BLOCK') {
      space = new DrawnSpace();
      const block = blockOf(records.take(), space);
      if (!blocks.has(blockKey(block.name))) blocks.set(blockKey(block.name), block);
    } else if (section === 'BLOCKS' && type === 'ENDBLK') {
      space = model;
      records.skip();
    } else if (section === 'BLOCKS' && space !== model) readEntity(records, type, space);
    else if (section === 'ENTITIES' || (section === null && ENTITY_READERS.has(type))) {
      if (section === null && !outside) {
        outside = true;
        model.report(outsideSection(file, records.line, type));
      }
      readEntity(records, type, model);
      if (model.items.length > MOST_ENTITIES) {
        limited = true;
        const where = { line: records.line, handle: null };
        model.report(dxfLimit(file, where, `it has more than ${MOST_ENTITIES} entities`));
        break;
      }
    } else records.skip();
  }
  space = model;

  const nothingRead = sections === 0 && model.items.length === 0;
  if (nothingRead && model.errors < ENOUGH_ERRORS) model.report(notADxf(head, file));
  else if (!complete && !limited && model.errors < ENOUGH_ERRORS) {
    const last = records.last;
    if (groups.end === 'bad group code') model.report(badGroupCode(file, groups.line, groups.badCode));
    else if (groups.end === 'text ended' && last?.type === 'ENDSEC' && drawn)
      model.report(noEnd(file, groups.linesRead));
    else model.report(truncated(file, groups.linesRead, last));
  }
  const entities =
    model.errors === 0
      ? namedAsInTable(expandBlocks(model, blocks, frozen, file, mostFromBlocks(source.length)), layers)
      : [];
  if (decoding.notUtf8) model.report(wrongEncoding(file));
  if (decoding.unknownPage !== null) model.report(codePage(file, decoding.unknownPage));
  model.sayCounts(file);
  const wholeNumber = (name: string): number | null => {
    const value = header.get(name);
    return value !== undefined && /^\d{1,3}$/.test(value) ? Number(value) : null;
  };
  const measurement = wholeNumber('$MEASUREMENT');
  return {
    version: header.get('$ACADVER') || 'unknown',
    insunits: wholeNumber('$INSUNITS'),
    metric: measurement === null ? null : measurement === 1,
    comments: records.comments,
    layers: [...layers.values()],
    entities,
    diagnostics: model.said,
  };
}

/** The same entities, on layers as the table writes them: names are the same in capitals and small letters. */
function namedAsInTable(entities: Entity[], layers: ReadonlyMap<string, DrawingLayer>): Entity[] {
  const names = new Map([...layers.values()].map((l) => [l.name.toUpperCase(), l.name] as const));
  const known = new Map<string, string>();
  const named = (layer: string): string => {
    let name = known.get(layer);
    if (name === undefined) {
      name = layers.has(layer) ? layer : (names.get(layer.toUpperCase()) ?? layer);
      known.set(layer, name);
    }
    return name;
  };
  entities.forEach((e, i) => {
    const layer = named(e.layer);
    if (layer !== e.layer) entities[i] = { ...e, layer };
  });
  return entities;
}

function blockOf(t: Tags, space: DrawnSpace): Block {
  const EXTERNAL = 4 | 8;
  return {
    name: decodeEscapes(t.text(2)).trim(),
    base: { x: t.numberOr(10, 0), y: t.numberOr(20, 0), z: t.numberOr(30, 0) },
    external: (t.integerOr(70, 0) & EXTERNAL) !== 0,
    space,
  };
}

function readEntity(records: RecordStream, type: string, space: DrawnSpace): void {
  const tags = records.take();
  // SEQEND only closes the attributes of an INSERT; it is no entity of its own.
  if (type === 'SEQEND') return;
  // The file broke off or went wrong inside this entity, which is said of the file.
  if (records.peek() === null && ENTITY_READERS.has(type)) return;
  const hidden = tags.integerOr(67, 0) === 1 || tags.integerOr(60, 0) === 1;
  const reader = ENTITY_READERS.get(type);
  if (reader === undefined) {
    space.count(hidden ? 'hidden' : 'unknown', type, tags);
    return;
  }
  const before = space.errors;
  const read = reader(tags, records);
  if (space.errors > before) return;
  if (hidden) space.count('hidden', type, tags);
  else if (typeof read === 'string') space.count(read, type, tags);
  else if ('kind' in read) space.items.push(read);
  else for (const item of read) space.items.push(item);
  if (!hidden && type === 'SPLINE' && !tags.has(10)) space.count('drawn through points', type, tags);
}

function notADxf(head: string, file: string): Diagnostic {
  if (head === '') return notDxf(file, 'nothing');
  if (/^AC10\d\d/.test(head)) return notDxf(file, 'binary drawing');
  if (head.startsWith('<')) return notDxf(file, 'xml');
  return notDxf(file, head.startsWith('%PDF') ? 'pdf' : 'other');
}
