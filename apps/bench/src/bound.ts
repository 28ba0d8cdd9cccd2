/** Prints a figure beside its bound; a bound that is missed makes the process end with 1. */
export function bound(what: string, value: number, most: number, unit: string): void {
  const met = value <= most;
  process.stdout.write(
    `${met ? 'met   ' : 'MISSED'} ${what}: ${value.toFixed(2)} ${unit} (bound ${most} ${unit})\n`,
  );
  if (!met) process.exitCode = 1;
}
