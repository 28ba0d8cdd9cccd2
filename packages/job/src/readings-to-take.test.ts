import { rectangleRing } from '@haunch/geometry';
import { expect, it } from 'vitest';
import { boardsOfJob } from './boards-of-job.js';
import { JobBoardSchema } from './job-schema.js';
import { mapPicture } from './map-picture.js';
import { placesRead, readingsToTake } from './readings-to-take.js';

const corners = [
  [50, 50],
  [2390, 50],
  [2390, 1170],
  [50, 1170],
] as const;
const [board] = boardsOfJob(
  [
    JobBoardSchema.parse({
      id: 'sheet-1',
      width: 2440,
      height: 1220,
      readings: corners.map((at, i) => ({ at, thickness: 17.6 + i / 10 })),
    }),
  ],
  'job.json',
  () => 1,
).boards;

it('are never where the board was measured already', () => {
  const places = readingsToTake(board!).map((r) => r.at);
  expect(places).toHaveLength(3);
  for (const a of places)
    for (const b of placesRead(board!)) expect(Math.hypot(a.x - b.x, a.y - b.y)).toBeGreaterThan(100);
});

it('are the same in words and in the picture', () => {
  const rings = [...mapPicture(board!).matchAll(/<circle cx="([\d.]+)" cy="([\d.]+)"[^>]*tm-next/g)];
  expect(rings.map((r) => [Number(r[1]), 1220 - Number(r[2])])).toEqual(
    readingsToTake(board!).map(({ at }) => [at.x, at.y]),
  );
});

it('are none for a board without a map', () => {
  const { map, ...bare } = board!;
  expect(map).toBeDefined();
  expect(readingsToTake({ ...bare, outline: rectangleRing(0, 0, 10, 10) })).toEqual([]);
});
