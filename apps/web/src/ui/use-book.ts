import { useEffect, useState } from 'preact/hooks';
import type { ShopBook } from '../job/store.js';
import type { BookView } from '../work/book-wire.js';
import { useKnown, usePage } from './use-page.js';

/** The day book that is open and what it says to the job as it is; `view` comes a moment later. */
export function useBook(document: string): {
  readonly book: ShopBook | null;
  readonly view: BookView | null;
} {
  const { desk } = usePage();
  const book = useKnown((s) => s.book);
  const [view, see] = useState<BookView | null>(null);
  useEffect(() => {
    let current = true;
    if (!book) see(null);
    else
      void desk
        .ask((s, d) => s.lookInBook(d, book))
        .then((seen) => {
          if (current && seen?.ok) see(seen.value);
        });
    return () => {
      current = false;
    };
  }, [book?.content, document]);
  return { book, view };
}
