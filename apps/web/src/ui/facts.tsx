/** Names and their figures, one line each. */
export function Facts({ facts }: { readonly facts: readonly (readonly [name: string, figure: string])[] }) {
  return (
    <dl class="facts">
      {facts.map(([name, figure]) => (
        <div key={name}>
          <dt>{name}</dt>
          <dd class="figure">{figure}</dd>
        </div>
      ))}
    </dl>
  );
}
