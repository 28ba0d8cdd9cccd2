/** Lines of a program that follow each other, as one stretch. */
export interface LineRun {
  readonly program: string | undefined;
  readonly from: number;
  readonly to: number;
}

/** Lines further apart than this are two stretches. */
const NEAR = 3;

/** The stretches that lines of programs lie in, program by program, in their order. */
export function lineRuns(lines: readonly number[], programs?: readonly string[]): LineRun[] {
  const byProgram = new Map<string | undefined, number[]>();
  lines.forEach((line, i) => {
    const program = programs?.[i];
    const own = byProgram.get(program);
    if (own) own.push(line);
    else byProgram.set(program, [line]);
  });
  return [...byProgram].flatMap(([program, own]) => {
    const runs: { program: string | undefined; from: number; to: number }[] = [];
    for (const line of [...own].sort((a, b) => a - b)) {
      const last = runs.at(-1);
      if (last && line - last.to <= NEAR) last.to = line;
      else runs.push({ program, from: line, to: line });
    }
    return runs;
  });
}
