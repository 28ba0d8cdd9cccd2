import { Option } from 'commander';

/** `--unit`: what the numbers of a drawing count, for every command that reads one. */
export const unitOption = (): Option =>
  new Option('--unit <unit>', 'unit of the drawing, where it states none or a wrong one').choices([
    'mm',
    'cm',
    'm',
    'inch',
  ]);
