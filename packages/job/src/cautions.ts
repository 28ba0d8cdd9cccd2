/** What everyone who runs a program must have read. Defers to the machine's manual, local codes and licensed practice. */
export const CAUTIONS: readonly string[] = [
  'A router can maim. Follow the machine’s manual, your local safety codes and what your trained or licensed practice asks; they go before anything this report says.',
  'The proof judges the program text with the sizes you gave. It does not see your machine: check board, face up, cutter number, cutter diameter, Z zero, clamps and screws before every start.',
  'Run the program in the air first, with a hand on the stop. Stay clear of the moving gantry; nobody leans over the bed while the spindle turns.',
  'Wear eye and hearing protection; no gloves, loose sleeves or hair near the spindle.',
  'Wood dust is harmful and can burn or explode: extract at the cutter, wear a fitting mask, never sweep with compressed air, look after the bin when the work is done.',
  'Use only sharp, undamaged cutters, clamped to the depth their maker states and never faster than the speed marked on them.',
  'Parts and slugs hang on tabs. Lift nothing until the spindle stands still; cut tabs with the part held down.',
  'Slot-together furniture can loosen, rack and tip. Rate no load without a test; fix tall pieces to the wall; where children are about, follow your local furniture safety rules.',
];
