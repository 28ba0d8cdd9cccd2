/** What came of files that were dropped. */
export type Opened =
  | {
      readonly kind: 'job';
      readonly name: string;
      readonly text: string;
      readonly sources: Readonly<Record<string, Blob>>;
    }
  | {
      readonly kind: 'source';
      readonly name: string;
      readonly content: Blob;
      readonly title: string;
      /** Stocks that its parts ask for. */
      readonly stocks: readonly string[];
      /** A drawing of flat parts, in which nobody has found yet what goes into what. */
      readonly drawing: boolean;
    }
  | { readonly kind: 'refused'; readonly problems: readonly Opened.Problem[] };

export declare namespace Opened {
  /** Why a file was not opened: in the words of a package (`said`), or one of the page's own reasons. */
  type Problem =
    | {
        readonly file: string;
        readonly what: 'said';
        readonly text: string;
        readonly line?: number;
        readonly hint?: string;
      }
    | { readonly file: string; readonly what: 'archive' | 'two jobs' | 'unknown kind' | 'one at a time' };
}
