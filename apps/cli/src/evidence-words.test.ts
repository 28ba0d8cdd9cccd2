import { fitThicknessMap, type ThicknessReading } from '@haunch/gauge';
import { rectangleRing } from '@haunch/geometry';
import { expect, it } from 'vitest';
import { evidenceWords } from './evidence-words.js';

const words = (readings: readonly ThicknessReading[]): string => {
  const map = fitThicknessMap(readings, rectangleRing(0, 0, 2440, 1220));
  if (!map.ok) throw new Error(map.diagnostics[0]?.message);
  return evidenceWords(map.value, readings);
};
const at = (x: number, y: number, thickness = 17.7): ThicknessReading => ({ thickness, at: { x, y } });

it('gives no shares for shapes that the readings cannot tell apart', () => {
  expect(words([{ thickness: 17.7 }])).not.toContain('%');
  expect(words([at(50, 50), at(50, 50, 17.71)])).not.toContain('%');
  expect(words([at(50, 50), at(2390, 50), at(50, 1170), at(2390, 1170)])).toMatch(/one thickness \d+ %/);
});
