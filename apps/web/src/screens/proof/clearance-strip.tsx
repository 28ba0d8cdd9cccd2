import { type DisplayUnit, formatLength } from '../../job/display-unit.js';
import { text } from '../../text/catalogue.js';

const words = text.proof;
/** The strip shows clearances from here to there, mm; what lies beyond stands at its end. */
const [LEAST, MOST] = [-0.2, 0.6];
const [WIDTH, HEIGHT] = [300, 44];

const x = (mm: number): number =>
  10 + (WIDTH - 20) * ((Math.min(MOST, Math.max(LEAST, mm)) - LEAST) / (MOST - LEAST));

/** A clearance on a scale, like the rungs of a ladder: a tick each tenth, the wanted one as a gap in the beam, the measured ones as a bar below. */
export function ClearanceStrip(props: {
  readonly wanted: number;
  readonly least: number;
  readonly most: number;
  readonly unit: DisplayUnit;
}) {
  const { wanted, least, most, unit } = props;
  const ticks = Array.from({ length: Math.round((MOST - LEAST) / 0.1) + 1 }, (_, i) => LEAST + i * 0.1);
  return (
    <svg
      class="strip"
      viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
      role="img"
      aria-label={words.strip(
        formatLength(wanted, unit),
        formatLength(least, unit),
        formatLength(most, unit),
      )}
    >
      <path
        class="beam"
        d={`M10 22H${WIDTH - 10}${ticks.map((t) => `M${x(t)} ${Math.abs(t) < 0.01 ? 14 : 18}V22`).join('')}`}
      />
      <text x={10} y={11}>
        {words.stripTight}
      </text>
      <text x={WIDTH - 10} y={11} text-anchor="end">
        {words.stripSlack}
      </text>
      <path class="wanted" d={`M${x(wanted)} 21l-6 -10h12z`} />
      <path class="measured" d={`M${x(least)} 31H${Math.max(x(most), x(least) + 1)}`} />
      <path class="ends" d={`M${x(least)} 25V37M${x(most)} 25V37`} />
    </svg>
  );
}
