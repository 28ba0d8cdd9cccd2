export * from './closed-curves.js';
export * from './drawing.js';
export * from './drawn-sheet.js';
export * from './find-parts.js';
export * from './format-dxf.js';
export { formatImportPage } from './format-import-page.js';
export { formatImportReport } from './format-import-report.js';
export * from './format-svg.js';
export * from './import-drawing.js';
export { labelPlace } from './label-place.js';
export type { LeftOut, LeftOutReason, Unclear } from './parts/account.js';
export type { LayerRule, LayerRules } from './parts/layer-rules.js';
export type { PartFamily } from './parts/part-families.js';
export {
  type EntityRef,
  REPAIR_KINDS,
  type Repair,
  type RepairKind,
  type Stroke,
} from './parts/repair.js';
export * from './picture.js';
export * from './picture-of-import.js';
export * from './picture-of-parts.js';
export * from './read-dxf.js';
export * from './read-svg.js';
export * from './sheet-of-parts.js';
export * from './thickness-support.js';
