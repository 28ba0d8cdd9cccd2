/** One of several programs of a board in the order of work, with the number that its first line has among the lines of all. */
export interface ProgramLines {
  readonly program: string;
  /** From 1. */
  readonly first: number;
}

/** A line of one of several programs, from 1. */
export interface LineOfProgram {
  readonly program: string;
  readonly line: number;
}

/** Which program a line of all of them together is of, and its number there. */
export function lineOfProgram(programs: readonly ProgramLines[], line: number): LineOfProgram {
  const own = programs.filter((p) => p.first <= line).at(-1) ?? programs[0]!;
  return { program: own.program, line: line - own.first + 1 };
}
