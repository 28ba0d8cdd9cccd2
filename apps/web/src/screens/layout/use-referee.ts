import { useEffect, useRef, useState } from 'preact/hooks';
import type { Desk } from '../../job/desk.js';
import type { RefereeWord, WirePlacements } from '../../work/lay-wire.js';

/** The referee's word on placements, asked anew whenever they change: one question at a time, of what lay last. Null until it comes. */
export function useReferee(desk: Desk, placements: WirePlacements | null): RefereeWord | null {
  const [word, set] = useState<RefereeWord | null>(null);
  const wanted = useRef<WirePlacements | null>(null);
  const asking = useRef(false);
  const key = JSON.stringify(placements);
  useEffect(() => {
    wanted.current = placements;
    if (asking.current || placements === null) return;
    const ask = async (): Promise<void> => {
      asking.current = true;
      while (wanted.current) {
        const of = wanted.current;
        wanted.current = null;
        const said = await desk.ask((s, document) => s.judge(document, of));
        set(said);
      }
      asking.current = false;
    };
    void ask();
  }, [desk, key]);
  return word;
}
