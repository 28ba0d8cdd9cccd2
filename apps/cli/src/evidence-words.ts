import type { Board, ThicknessMap } from '@haunch/model';

/** Fewer places than this lie in every slope: they say nothing for or against one. */
const SPEAKING = 3;

/** What a board's readings say of its shape, in words; without three places that differ they say nothing of it. */
export function evidenceWords(map: ThicknessMap, readings: Board['readings']): string {
  const places = new Set(readings.flatMap(({ at }) => (at ? [`${at.x},${at.y}`] : [])));
  if (places.size < SPEAKING)
    return 'readings at fewer than three places say nothing of a slope or a curve; both are allowed for';
  const per = (share: number): string => `${Math.round(share * 100)} %`;
  const { level, plane, curved } = map.evidence;
  return `the readings speak for one thickness ${per(level)}, a slope ${per(plane)}, a curved surface ${per(curved)}`;
}
