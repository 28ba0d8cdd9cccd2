import { useEffect, useState } from 'preact/hooks';
import type { Desk } from '../job/desk.js';
import type { ShownResult } from '../work/shown-wire.js';
import type { MadeResult } from '../work/wire.js';

/** What a screen draws of the last result: undefined while it is fetched, null where it cannot be had. */
export function useShown<K extends keyof ShownResult>(
  desk: Desk,
  result: MadeResult | null,
  what: K,
): ShownResult[K] | null | undefined {
  const [shown, set] = useState<{ readonly of: string; readonly value: ShownResult[K] | null } | null>(null);
  const of = result?.document ?? null;
  useEffect(() => {
    let wanted = true;
    if (of !== null)
      void desk.shown(what).then((value) => {
        if (wanted) set({ of, value });
      });
    return () => {
      wanted = false;
    };
  }, [desk, of, what]);
  return shown && shown.of === of ? shown.value : undefined;
}
