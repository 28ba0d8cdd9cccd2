/** What this browser lacks of what the page cannot do without, by the names of the web's standards; nothing where it will do. */
export function lacking(scope: Readonly<Record<string, unknown>> = globalThis as never): string[] {
  return ['Worker', 'WebAssembly', 'indexedDB', 'structuredClone', 'DecompressionStream'].filter(
    (name) => scope[name] === undefined || scope[name] === null,
  );
}
