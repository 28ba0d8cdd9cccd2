import { createContext } from 'preact';
import { useContext, useEffect, useState } from 'preact/hooks';
import type { Desk } from '../job/desk.js';
import type { State, Store } from '../job/store.js';

/** What every part of the page has at hand. */
export interface Page {
  readonly store: Store;
  readonly desk: Desk;
}

/** Gives the page's store and desk to all that is below it. */
export const PageContext = createContext<Page | null>(null);

/** The page's store and desk. @throws RangeError outside of the page */
export function usePage(): Page {
  const page = useContext(PageContext);
  if (!page) throw new RangeError('usePage: there is no page');
  return page;
}

/** A part of what the page knows; what it is taken with must give the very same value for the same state. */
export function useKnown<T>(take: (state: State) => T): T {
  const { store } = usePage();
  const [value, set] = useState(() => take(store.state));
  useEffect(() => {
    set(() => take(store.state));
    return store.listen(() => set(() => take(store.state)));
  }, [store]);
  return value;
}
