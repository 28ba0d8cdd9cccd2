/** What is wrong with a form as it was sent, said aloud by screen readers; nothing where nothing is. */
export function FormProblem(props: { readonly problem: string | null }) {
  return props.problem === null ? null : (
    <p role="alert" class="word-of bad">
      {props.problem}
    </p>
  );
}
