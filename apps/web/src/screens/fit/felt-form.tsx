import { useState } from 'preact/hooks';
import type { Desk } from '../../job/desk.js';
import { type DisplayUnit, formatLength, lengthText } from '../../job/display-unit.js';
import { text } from '../../text/catalogue.js';
import { Choice } from '../../ui/choice.js';
import { Sayings } from '../../ui/sayings.js';
import type { FeltWords, LadderResult } from '../../work/service.js';
import type { Reply } from '../../work/wire.js';
import type { OpenJob } from '../screen.js';

const words = text.fit;
const FELT = ["won't enter", 'mallet', 'hand', 'rattles'] as const;
type Felt = (typeof FELT)[number];
/** A mark for each answer on the drawn ladder, so that nothing hangs on colour. */
const MARKS: Readonly<Record<Felt, string>> = { "won't enter": '✕', mallet: '▲', hand: '●', rattles: '○' };

/** What was felt in a ladder, rung by rung, on its drawing. */
export function FeltForm(props: {
  readonly ladder: LadderResult;
  readonly job: OpenJob;
  readonly unit: DisplayUnit;
  readonly desk: Desk;
}) {
  const { ladder, job, unit, desk } = props;
  const [felt, feel] = useState<Readonly<Record<string, Felt>>>({});
  const [corner, setCorner] = useState<'bottoms' | 'stands' | null>(null);
  const [depth, setDepth] = useState('');
  const [slot, setSlot] = useState('');
  const [peg, setPeg] = useState('');
  const [reply, set] = useState<Reply<string> | null>(null);
  const router = job.text.cutters.find((c) => (c.kind ?? 'router') === 'router')!.id;
  const answers = Object.entries(felt).map(([rung, f]) => ({ rung, felt: f }));
  const type = async () => {
    const cut = `${ladder.gaugeWidth} mm`;
    const told: FeltWords = {
      board: ladder.board,
      cutter: router,
      answers,
      ...(corner === null ? {} : { corner }),
      ...(depth.trim() === '' ? {} : { housing: lengthText(depth, unit) }),
      ...(slot.trim() === '' ? {} : { slots: [{ cut, measured: lengthText(slot, unit) }] }),
      ...(peg.trim() === '' ? {} : { pegs: [{ cut, measured: lengthText(peg, unit) }] }),
    };
    const read = await desk.ask((s, document) => s.feelLadder(document, told));
    if (read === null) return;
    set(read);
    if (read.ok) desk.editText(read.value, words.done.felt(ladder.board));
  };
  const measure = (label: string, value: string, change: (v: string) => void) => (
    <label>
      {label}
      <br />
      <input
        type="text"
        inputMode="decimal"
        size={8}
        autoComplete="off"
        value={value}
        onInput={(e) => change(e.currentTarget.value)}
      />
    </label>
  );
  return (
    <>
      <figure class="picture ladder-paper">
        <LadderPicture
          ladder={ladder}
          felt={felt}
          onRung={(rung) => {
            const next = FELT[FELT.indexOf(felt[rung]!) + 1];
            const { [rung]: _, ...others } = felt;
            feel(next === undefined ? others : { ...felt, [rung]: next });
          }}
        />
        <figcaption>
          {words.touchRung} {words.ladderCaption(MARKS)}
        </figcaption>
      </figure>
      <ul class="rungs">
        {ladder.rungs.map((r) => (
          <li key={r.id}>
            <Choice
              label={words.rung(r.id, formatLength(ladder.thickness + r.clearance, unit, 3))}
              value={felt[r.id] ?? null}
              options={FELT.map((value) => ({ value, label: words.feels[value] }))}
              onChoose={(f) => feel({ ...felt, [r.id]: f })}
            />
          </li>
        ))}
        {ladder.relieved ? (
          <li>
            <Choice
              label={words.corner(ladder.relieved.id)}
              value={corner}
              options={(['bottoms', 'stands'] as const).map((value) => ({
                value,
                label: words.corners[value],
              }))}
              onChoose={setCorner}
            />
          </li>
        ) : null}
      </ul>
      <div class="row low">
        {measure(words.slot(formatLength(ladder.gaugeWidth, unit)), slot, setSlot)}
        {measure(words.peg(formatLength(ladder.gaugeWidth, unit)), peg, setPeg)}
        {ladder.housing
          ? measure(words.housing(formatLength(ladder.housing.depth, unit, 2)), depth, setDepth)
          : null}
      </div>
      <button type="button" class="main" disabled={answers.length === 0} onClick={() => void type()}>
        {words.typeIn}
      </button>
      {reply ? <Sayings of={reply.diagnostics} /> : null}
      {reply?.ok ? (
        <p role="status" class="word-of good">
          ✓ {words.typedIn}
        </p>
      ) : null}
    </>
  );
}

/** How far round a rung's name a touch is meant for it, mm: rungs stand twice as far apart. */
const TOUCH = 9;

/** The ladder's comb with the names of its rungs, and a mark where something was felt; a touch goes on to the next answer. */
function LadderPicture(props: {
  readonly ladder: LadderResult;
  readonly felt: Readonly<Record<string, Felt>>;
  readonly onRung: (rung: string) => void;
}) {
  const { comb, rungs, relieved, housing } = props.ladder;
  const room = 16;
  const letter = 7;
  const places = [...rungs, ...(relieved ? [relieved] : []), ...(housing ? [housing] : [])];
  return (
    <svg
      class="part"
      role="img"
      aria-label={words.ladderPicture(rungs.length)}
      viewBox={`${-room} ${-room} ${comb.width + 2 * room} ${comb.height + 2 * room}`}
    >
      <path d={comb.d} class="outline" fill-rule="evenodd" vector-effect="non-scaling-stroke" />
      {places.map((p) => (
        <text key={p.id} x={p.x} y={p.y + letter / 3} font-size={letter} text-anchor="middle" class="name">
          {`${p.id}${props.felt[p.id] ? ` ${MARKS[props.felt[p.id]!]}` : ''}`}
        </text>
      ))}
      {rungs.map((r) => (
        // biome-ignore lint/a11y/noStaticElementInteractions: the list below does the same by keyboard
        <circle key={r.id} class="rung" cx={r.x} cy={r.y} r={TOUCH} onClick={() => props.onRung(r.id)}>
          <title>{props.felt[r.id] ? `${r.id}: ${words.feels[props.felt[r.id]!]}` : r.id}</title>
        </circle>
      ))}
    </svg>
  );
}
