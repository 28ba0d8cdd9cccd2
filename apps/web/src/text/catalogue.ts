import { assemblyText } from './assembly.js';
import { boardsText } from './boards.js';
import { bookText } from './book.js';
import { drawingText } from './drawing.js';
import { fitText } from './fit.js';
import { layoutText } from './layout.js';
import { programText } from './program.js';
import { proofText } from './proof.js';
import { shellText } from './shell.js';

/** Every word that the page says of its own, one section a screen; what packages say stands in their own catalogues. */
export const text = {
  ...shellText,
  drawing: drawingText,
  boards: boardsText,
  book: bookText,
  fit: fitText,
  layout: layoutText,
  program: programText,
  proof: proofText,
  assembly: assemblyText,
} as const;
