import type { ComponentChildren } from 'preact';

/** A ruled entry of the card: what it is about at its left, what is to be seen or done at its right. */
export const Entry = (props: {
  readonly head: string;
  readonly says?: string | undefined;
  readonly wide?: boolean;
  readonly children: ComponentChildren;
}) => (
  <section class={props.wide ? 'entry wide' : 'entry'}>
    <div class="aside">
      <h2>{props.head}</h2>
      {props.says === undefined ? null : <p class="soft small">{props.says}</p>}
    </div>
    <div class="stack">{props.children}</div>
  </section>
);
