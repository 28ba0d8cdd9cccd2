import { formatDxf, sheetOfParts } from '@haunch/drawing';
import { rectangleRing } from '@haunch/geometry';
import type { Part } from '@haunch/model';
import { expect, it } from 'vitest';
import { proveAgainstDrawing } from './prove-alone.js';
import type { ProveFacts } from './prove-facts.js';

const ring = rectangleRing(0, 0, 100, 60);
const plate: Part = {
  kind: 'part',
  id: 'PLATE',
  name: 'plate',
  thickness: 18,
  grain: null,
  cutFace: 'n+',
  showFace: null,
  stock: null,
  outline: { id: 'PLATE', ring, bare: ring, reliefs: [] },
  through: [],
  pockets: [],
  holes: [],
  from: [],
};
const drawing = { content: formatDxf(sheetOfParts([plate])), file: 'plate.dxf' };
/** The plate cut out with a cutter of 6 mm, its corner at (50, 50), and no tabs. */
const lines = [
  'G21 G90 G17 G94',
  'T1 M6',
  'S18000 M3',
  'G0 Z28',
  'G0 X47 Y47',
  'G1 Z-0.2 F500',
  'G1 X153 F3000',
  'G1 Y113',
  'G1 X47',
  'G1 Y47',
  'G0 Z28',
  'M5',
  'M30',
];
async function proved(facts: Partial<ProveFacts>, blocks = lines) {
  const program = { text: `${blocks.join('\n')}\n`, file: 'plate.ngc' };
  const cutters = new Map<number | 'any', number>([['any', 6]]);
  const out = await proveAgainstDrawing(program, drawing, {
    cutters,
    thickness: 18,
    zZero: 'bed',
    ...facts,
  });
  if (!out.ok) throw new Error(out.diagnostics[0]!.message);
  return out.value.result;
}
async function verdicts(facts: Partial<ProveFacts>) {
  const { pass, rules } = await proved(facts);
  return {
    pass,
    ...Object.fromEntries(
      rules.filter((r) => ['P09', 'P11', 'P12', 'P13'].includes(r.rule)).map((r) => [r.rule, r.verdict]),
    ),
  };
}

it('asks for tabs, unless it is said that the parts are held otherwise', async () => {
  const onTabs = { pass: false, P09: 'pass', P11: 'fail', P12: 'pass', P13: 'not judged' };
  expect(await verdicts({})).toEqual(onTabs);
  expect(await verdicts({ held: 'otherwise' })).toEqual({
    pass: true,
    P09: 'pass',
    P11: 'not judged',
    P12: 'not judged',
    P13: 'not judged',
  });
});

it('takes ten millimetres above the sheet as the height of travels, unless another is told', async () => {
  const low = lines.map((l) => l.replace('Z28', 'Z23'));
  const broken = async (facts: Partial<ProveFacts>) =>
    (await proved({ held: 'otherwise', ...facts }, low)).rules
      .filter((r) => r.verdict === 'fail')
      .map((r) => r.rule);
  expect(await broken({})).toEqual(['P02', 'P04', 'P17']);
  expect(await broken({ travelHeight: 5 })).toEqual([]);
});
