import type { ComponentChildren } from 'preact';

/** A table that may be wider than the screen: it scrolls by itself, by keys too. */
export const WideTable = (props: { readonly label: string; readonly children: ComponentChildren }) => (
  // biome-ignore lint/a11y/noNoninteractiveTabindex: keys must scroll it
  <section class="wide-table" tabIndex={0} aria-label={props.label}>
    <table>{props.children}</table>
  </section>
);
