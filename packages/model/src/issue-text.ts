/** A schema's complaint about a value; `errors` holds those of each form when the value may take several. */
export interface SchemaIssue {
  readonly message: string;
  readonly errors?: readonly (readonly SchemaIssue[])[];
}

function plainly(message: string): string {
  const missing = /^Invalid input: expected (.+), received undefined$/.exec(message);
  if (missing) return `a value is missing here: expected ${missing[1]}`;
  return message
    .replace(/^Invalid input: expected (.+), received (.+)$/, 'expected $1 here instead of $2')
    .replace(
      /^Invalid discriminator value\. Expected (.+)$/,
      (_, values: string) => `expected one of ${values.split(' | ').join(', ')} here`,
    )
    .replace(
      /^Too small: expected array to have >=(\d+) items?$/,
      'fewer stand here than the $1 that are needed',
    )
    .replace(/^Too big: expected array to have <=(\d+) items?$/, 'more stand here than the $1 that may');
}

/**
 * What a schema says of a value, as a person would: what is missing, or what was expected instead. Where the
 * value may take several forms and one of them understood it so far as to complain in its own words, those
 * words stand alone; else each form is named once.
 */
export function issueText(issue: SchemaIssue): string {
  const forms = (issue.errors ?? []).flatMap((f) => f.slice(0, 1).map(issueText));
  const own = forms.filter((f) => !/^(expected |a value is missing|Invalid input)/.test(f));
  const all = [...new Set(own.length > 0 ? own : forms)];
  return all.length > 0 ? all.join('; or ') : plainly(issue.message);
}
