/** The Program screen. */
export const programText = {
  lead: 'What the machine will do, read back from the very text that it will be given.',
  state: 'State',
  which: 'Program',
  replay: 'Replay',
  replaySays:
    'Touch a line to see its move; move the slider to see its line. Waits and changes of the cutter take no time here.',
  onlyToLook:
    'This program is not proved. It stands here to look for the fault, and is not given out to be cut.',
  fetching: 'Fetching the program …',
  notKept: 'What is drawn here was not kept over the reload. Make it again to see it.',
  pictureOf: (board: string) => `Board ${board} from above, cut as far as the time below says`,
  time: 'Time',
  run: 'Run',
  hold: 'Hold',
  back: 'One move back',
  on: 'One move on',
  pace: 'Pace',
  paces: { 1: 'as on the machine', 10: '10 times', 60: '60 times' },
  clock: (minutes: number, seconds: number) =>
    minutes === 0 ? `${seconds} s` : `${minutes} min ${String(seconds).padStart(2, '0')} s`,
  seconds: (s: number) => `${s < 10 ? s.toFixed(1) : s.toFixed(0)} s`,
  does: {
    done: 'done',
    travel: 'travels',
    through: 'cuts through',
    partWay: (deep: string) => `cuts ${deep} deep`,
  },
  now: (s: { time: string; of: string; line: number; x: string; y: string; z: string; does: string }) =>
    `${s.time} of ${s.of} · line ${s.line} · X ${s.x}  Y ${s.y}  Z ${s.z} · ${s.does}`,
  inStep: (number: string, part: string, feature: string, cutter: string) =>
    `Step ${number}: ${feature} of ${part}, with ${cutter}`,
  legend: {
    through: 'cut through',
    partWay: 'part of the way: a bright core',
    travel: 'travel above the sheet: dashes',
    cutter: 'the cutter',
  },
  textOf: (file: string) => `Text of ${file}`,
  steps: 'Steps',
  stepsSays: (n: number, time: string) =>
    `${n} steps, about ${time} by the proof; steps as planned. The line is where the work can be taken up again.`,
  setup: 'Set before it is started',
  what: (kind: string, feature: string) => `${kind} ${feature}`,
  how: (cutter: string, depth: string, passes: number) =>
    `${cutter}, ${depth} deep${passes > 1 ? ` in ${passes} passes` : ''}`,
  line: (n: number) => `line ${n}`,
  takeUpAt: (number: string, line: number) => `Show step ${number}, from line ${line}`,
  waits: (what: string) => `waits: ${what}`,
  cautions: 'Before you cut',
  cautionsSays: 'They hold for every program.',
  take: 'Take along',
  takeSays: 'The same bytes that the command line writes.',
  download: (file: string) => `Download ${file}`,
  downloadAll: 'Everything that was made, in one archive',
} as const;
