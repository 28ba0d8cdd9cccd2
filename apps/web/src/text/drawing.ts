/** The Drawing screen, and the card before there is a job. */
export const drawingText = {
  lead: 'What is to be made: its parts, and which of their edges follow the thickness of the sheet.',
  begin: 'Begin with a drawing',
  beginSays: 'DXF or SVG of flat parts, a master, or a job.',
  drop: 'Drop a file here: a drawing (.dxf, .svg), a master or a job (.json), or a job with its files (.zip).',
  choose: 'Choose a file',
  stays: 'All the work is done in this page. Nothing is sent anywhere.',
} as const;
