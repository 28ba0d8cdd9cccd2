/// <reference types="node" />
import { readFileSync } from 'node:fs';
import { polygonRing, rectangleRing } from '@haunch/geometry';
import { expect, it } from 'vitest';
import { constructive, instanceProblems, overlapMinimising, runNesting, seededRun } from '../src/index.js';
import { measureLayout, stripProblem } from '../src/trial/index.js';

it('the example in the README is true', () => {
  const text = readFileSync(new URL('../README.md', import.meta.url), 'utf8');
  const code = /```ts\n([\s\S]*?)```/.exec(text)![1]!.replace(/^import .*$/gm, '');
  const names = { rectangleRing, constructive, instanceProblems, runNesting, seededRun };
  const body = `${code}; return { problems: instanceProblems(instance), report };`;
  const { problems, report } = new Function(...Object.keys(names), body)(...Object.values(names));
  expect(problems).toEqual([]);
  expect(report).toMatchObject({ valid: true, leastGap: 10 });
});

it('the example of a strip in the README is true', () => {
  const text = readFileSync(new URL('../README.md', import.meta.url), 'utf8');
  const code = [...text.matchAll(/```ts\n([\s\S]*?)```/g)][1]![1]!.replace(/^import [^;]*;$/gm, '');
  const names = { polygonRing, overlapMinimising, runNesting, seededRun, measureLayout, stripProblem };
  const body = code.replace(/^measureLayout/m, 'return measureLayout');
  expect(new Function(...Object.keys(names), body)(...Object.values(names))).toBe(1);
});
