import { useEffect, useRef, useState } from 'preact/hooks';
import { jointAddress } from '../../job/address.js';
import type { Desk } from '../../job/desk.js';
import { text } from '../../text/catalogue.js';
import type { DrawnAssembly } from '../../work/assembly-wire.js';
import type { MadeResult } from '../../work/wire.js';
import { progressAt, stepOfJoint } from './assembly-state.js';
import { DrawnPicture } from './drawn-step.js';
import { InSpace } from './in-space.js';

const words = text.assembly;
/** How long a step moves, ms. */
const MOVING = 1100;
/** A joint that is tight more often than this wants the sanding block at hand. */
const LIKELY_TIGHT = 0.25;
const ALMOST = 0.999;

/** A way in words, as the piece is seen from its front. */
const wayOf = ([x, y, z]: readonly [number, number, number]): string => {
  const ways: readonly (readonly [number, keyof typeof words.ways])[] = [
    [-z, 'down'],
    [z, 'up'],
    [x, 'right'],
    [-x, 'left'],
    [y, 'rear'],
    [-y, 'front'],
  ];
  return words.ways[ways.find(([share]) => share > ALMOST)?.[1] ?? 'slanting'];
};

/** One piece: its picture in space or drawn, a slider through its steps, and each step in words. */
export function PieceTogether(props: {
  readonly desk: Desk;
  readonly result: MadeResult;
  readonly piece: number;
  readonly assembly: DrawnAssembly;
  /** A joint to begin at. */
  readonly joint: string | undefined;
}) {
  const { desk, result, assembly, piece } = props;
  const count = assembly.steps.length;
  const [at, setAt] = useState(0);
  const [flat, setFlat] = useState(false);
  const frame = useRef(0);
  const { step } = progressAt(at, count);
  useEffect(() => () => cancelAnimationFrame(frame.current), []);
  useEffect(() => {
    const n = props.joint === undefined ? 0 : stepOfJoint(assembly, props.joint);
    if (n > 0) setAt(n - 1 + 0.35);
  }, [props.joint, assembly]);

  const jump = (to: number): void => {
    cancelAnimationFrame(frame.current);
    setAt(Math.min(count, Math.max(0, to)));
  };
  const glide = (to: number): void => {
    cancelAnimationFrame(frame.current);
    if (flat || matchMedia('(prefers-reduced-motion: reduce)').matches) {
      jump(to);
      return;
    }
    const [from, since] = [at, performance.now()];
    const go = (now: number): void => {
      const share = Math.min(1, (now - since) / (MOVING * Math.max(0.2, Math.abs(to - from))));
      setAt(from + (to - from) * share);
      if (share < 1) frame.current = requestAnimationFrame(go);
    };
    frame.current = requestAnimationFrame(go);
  };
  const now = step > 0 ? assembly.steps[step - 1] : undefined;
  const label = now ? words.pictureOf(assembly.name, step, count) : words.pictureApart(assembly.name);
  return (
    <div class="stack together">
      {flat ? (
        <DrawnPicture desk={desk} document={result.document} piece={piece} step={step} label={label} />
      ) : (
        <InSpace assembly={assembly} at={at} label={label} onNone={() => setFlat(true)} />
      )}
      {count === 0 ? (
        <p>{words.noOrder(assembly.why ?? '')}</p>
      ) : (
        <>
          <div class="step-slider">
            <label for="assembly-step">{words.step}</label>
            <input
              id="assembly-step"
              type="range"
              min={0}
              max={count}
              step={flat ? 1 : 0.05}
              value={at}
              aria-valuetext={words.stepOf(step, count)}
              onInput={(e) => jump(Number(e.currentTarget.value))}
            />
          </div>
          <div class="row">
            <button type="button" disabled={at <= 0} onClick={() => glide(Math.ceil(at) - 1)}>
              {words.back}
            </button>
            <button
              type="button"
              class="main"
              disabled={at >= count}
              onClick={() => glide(Math.floor(at) + 1)}
            >
              {words.on}
            </button>
            <button type="button" onClick={() => jump(0)}>
              {words.apart}
            </button>
            <button type="button" onClick={() => jump(count)}>
              {words.whole}
            </button>
          </div>
          <div aria-live="polite" class="stack step-words">
            <h3>{words.stepOf(step, count)}</h3>
            {now ? <StepWords step={now} result={result} /> : <p>{words.start}</p>}
          </div>
        </>
      )}
    </div>
  );
}

function StepWords({
  step,
  result,
}: {
  readonly step: DrawnAssembly['steps'][number];
  readonly result: MadeResult;
}) {
  const tight = result.report.forecast.joints.filter(
    (j) => step.joints.includes(j.joint) && j.tight > LIKELY_TIGHT,
  );
  const { places } = step;
  return (
    <>
      <p>
        <strong>{words.moves(step.moving, wayOf(step.direction), step.partners)}</strong>
      </p>
      {step.text ? <p>{step.text}</p> : null}
      {places.length > 0 ? <p>{words.engage(places.map((p) => p.partner))}</p> : null}
      <p>{words.hands(step)}</p>
      {tight.length > 0 ? <p>{words.sand(tight.map((j) => j.joint))}</p> : null}
      {step.joints.length > 0 ? (
        <p class="row">
          <span class="soft">{words.joints}</span>
          {step.joints.map((j) => (
            <a key={j} class="button" href={jointAddress(j)}>
              {j}
            </a>
          ))}
        </p>
      ) : null}
    </>
  );
}
