/** Files of the examples, by their place in the repository; fetched when one is opened. */
const FILES = import.meta.glob<string>(
  [
    '../../../../docs/examples/{sideboard,pigeonholes,reading-stand}/*.json',
    '../../../../docs/examples/rack/rack.dxf',
  ],
  { query: '?url', import: 'default', eager: true },
);

/** An example that can be opened at once. */
export interface Example {
  readonly id: 'sideboard' | 'pigeonholes' | 'reading-stand' | 'rack';
  readonly files: readonly { readonly name: string; readonly url: string }[];
}

/** The examples, the one to begin with first. */
export const EXAMPLES: readonly Example[] = (
  ['sideboard', 'reading-stand', 'pigeonholes', 'rack'] as const
).map((id) => ({
  id,
  files: Object.entries(FILES)
    .filter(([path]) => path.includes(`/examples/${id}/`))
    .map(([path, url]) => ({ name: path.split('/').at(-1)!, url })),
}));
