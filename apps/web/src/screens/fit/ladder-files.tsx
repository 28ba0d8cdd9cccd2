import { type DisplayUnit, formatLength } from '../../job/display-unit.js';
import { download } from '../../job/download.js';
import { text } from '../../text/catalogue.js';
import type { LadderResult } from '../../work/service.js';

const words = text.fit;

/** The ladder's files: its program for the machine, where it lies on the board, which rung is which. */
export function LadderFiles({ ladder, unit }: { readonly ladder: LadderResult; readonly unit: DisplayUnit }) {
  const program = ladder.files.some((f) => !/\.(?:svg|dxf)$/.test(f.path));
  return (
    <>
      <p>{words.laidIn(ladder.board, formatLength(ladder.thickness, unit))}</p>
      {program ? null : <p class="word-of bad">{words.ladderNotProved}</p>}
      <div class="row">
        {ladder.files.map((f) => (
          <button type="button" key={f.path} onClick={() => download(f.content, f.path.split('/').at(-1)!)}>
            {words.downloadFile(f.path.split('/').at(-1)!)}
          </button>
        ))}
        <button type="button" onClick={() => print()}>
          {words.print}
        </button>
      </div>
      <ol class="plain">
        {words.howToCut(formatLength(ladder.gaugeWidth, unit)).map((step) => (
          <li key={step}>{step}</li>
        ))}
      </ol>
    </>
  );
}
