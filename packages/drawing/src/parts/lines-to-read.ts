import { FOLLOW, plainEntities } from '../curves/plain-entities.js';
import { filledAreas, notFollowed } from '../diagnostics.js';
import type { Drawing, Entity, TextEntity } from '../drawing.js';
import type { Account } from './account.js';
import {
  allHidden,
  hiddenLayer,
  layerAssumed,
  layerRuled,
  layerUnknown,
  pointsLeftOut,
} from './diagnostics.js';
import { entityStroke, someplaceOn } from './entity-stroke.js';
import { type AppliedRule, isLeftOut, type LayerRules, rulesOfLayers } from './layer-rules.js';

/** What of a drawing may bound parts. */
export interface LinesToRead {
  /** Lines, arcs, circles and polylines alone. */
  readonly lines: readonly Entity[];
  readonly texts: readonly TextEntity[];
  readonly rules: ReadonlyMap<string, AppliedRule>;
}

const LISTED = 10;

/** Takes from a drawing what is hidden, ruled out, filled or a mere point, and follows its curves. */
export function linesToRead(
  drawing: Drawing,
  options: { readonly hiddenLayers: boolean; readonly layers: LayerRules },
  account: Account,
): LinesToRead {
  const { file, diagnostics } = account;
  const visible = visibleEntities(drawing, options.hiddenLayers, account);
  const rules = rulesOfLayers(drawing, options.layers);
  const ruled = withoutRuledOut(visible, rules, account);
  const drawn = new Set(drawing.entities.map((e) => e.layer));
  for (const layer of Object.keys(options.layers))
    if (!drawn.has(layer)) diagnostics.push(layerUnknown(file, layer, [...drawn]));
  const texts = ruled.filter((e): e is TextEntity => e.kind === 'text');
  const points = ruled.filter((e) => e.kind === 'point');
  if (points.length > 0) {
    diagnostics.push(pointsLeftOut(file, { count: points.length, first: points[0]! }));
    account.leaveOut('point', points);
  }
  const shapes = ruled.filter((e) => e.kind !== 'text' && e.kind !== 'point');
  return { lines: withoutFills(followCurves(shapes, account), account), texts, rules };
}

function visibleEntities(drawing: Drawing, all: boolean, account: Account): readonly Entity[] {
  if (all) return drawing.entities;
  const hidden = new Map(
    drawing.layers.filter((l) => l.off || l.frozen).map((l): [string, Entity[]] => [l.name, []]),
  );
  const entities = drawing.entities.filter((e) => {
    const own = hidden.get(e.hiddenBy ?? e.layer);
    own?.push(e);
    return own === undefined;
  });
  const full = [...hidden].filter(([, own]) => own.length > 0);
  // A reference to a block that is frozen is meant to hide it; layers of parts are often left as they were last.
  const own = (e: Entity): boolean => isShape(e) && e.hiddenBy === undefined;
  if (!entities.some(isShape) && full.some(([, list]) => list.some(own))) {
    account.diagnostics.push(allHidden(account.file, full.length));
    return drawing.entities.filter((e) => e.hiddenBy === undefined);
  }
  for (const [layer, own] of full) {
    account.diagnostics.push(hiddenLayer(account.file, layer, own.length));
    account.leaveOut('hidden layer', own);
  }
  return entities;
}

const isShape = (e: Entity): boolean => e.kind !== 'text' && e.kind !== 'point';

function withoutRuledOut(
  entities: readonly Entity[],
  rules: ReadonlyMap<string, AppliedRule>,
  account: Account,
): readonly Entity[] {
  const out = new Map<string, Entity[]>();
  const left = entities.filter((e) => {
    // What is written on such a layer may still be the name of a part.
    if (e.kind === 'text' || !isLeftOut(rules.get(e.layer)?.rule)) return true;
    const own = out.get(e.layer);
    if (own === undefined) out.set(e.layer, [e]);
    else own.push(e);
    return false;
  });
  for (const [layer, own] of out) {
    const { rule, basis } = rules.get(layer)!;
    const as = rule.as === 'engrave' ? 'engrave' : 'leave out';
    const say = basis === 'given' ? layerRuled : layerAssumed;
    account.diagnostics.push(say(account.file, layer, own.length, as));
    account.leaveOut(basis === 'given' ? 'layer rule' : "layer's name", own);
  }
  return left;
}

function followCurves(entities: readonly Entity[], account: Account): readonly Entity[] {
  const wanted = entities.filter(
    (e) => (e.kind !== 'spline' && e.kind !== 'ellipse') || !account.book.keeps('curve', someplaceOn(e), [e]),
  );
  const followed = plainEntities(wanted);
  for (const e of followed.notFollowed.slice(0, LISTED))
    account.diagnostics.push(notFollowed(account.file, e, e.kind, FOLLOW));
  const asDrawn = new Set(entities);
  const kinds = new Map<string, ('ellipse' | 'spline')[]>();
  const word = (e: Entity): string => `${e.line} ${e.handle}`;
  for (const e of wanted)
    if (e.kind === 'spline' || e.kind === 'ellipse')
      kinds.set(word(e), [...(kinds.get(word(e)) ?? []), e.kind]);
  const byPlace = new Map<string, Entity[]>();
  const lines = followed.entities.map((e): Entity => {
    if (asDrawn.has(e)) return e;
    const made: Entity = { ...e, followed: kinds.get(word(e))?.[0] ?? 'spline' };
    byPlace.set(word(e), [...(byPlace.get(word(e)) ?? []), made]);
    return made;
  });
  const lost: Entity[] = [];
  for (const e of entities) {
    if (e.kind !== 'spline' && e.kind !== 'ellipse') continue;
    const made = byPlace.get(word(e))?.shift();
    const after = made === undefined ? null : entityStroke(made);
    const draft = () => ({ before: [], after: after === null ? [] : [after] });
    if (after === null || !account.book.mend('curve', someplaceOn(e), [e], FOLLOW, draft)) lost.push(e);
  }
  if (lost.length > 0) account.leaveOut('not followed', lost);
  return lines;
}

/**
 * Entities without those that bound filled areas, which only show what other lines bound. Where nothing else is
 * drawn they are the contours.
 */
function withoutFills(entities: readonly Entity[], account: Account): readonly Entity[] {
  const fills = entities.filter((e) => e.filled !== undefined);
  if (fills.length === 0) return entities;
  const lines = entities.filter((e) => e.filled === undefined);
  const taken = lines.length === 0;
  for (const type of new Set(fills.map((e) => e.filled!))) {
    const own = fills.filter((e) => e.filled === type);
    const tally = { count: own.length, first: own[0]! };
    account.diagnostics.push(filledAreas(account.file, type, tally, taken));
  }
  if (!taken) account.leaveOut('filled area', fills);
  return taken ? entities : lines;
}
