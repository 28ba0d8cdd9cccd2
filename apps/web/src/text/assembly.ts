const list = (names: readonly string[]): string =>
  names.length < 2 ? (names[0] ?? '') : `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`;

/** So many names are listed; of more the number is said. */
const LISTED = 8;

/** The Assembly screen. */
export const assemblyText = {
  lead: 'How the piece goes together, step by step, along the moves that its joints allow.',
  state: 'State',
  pieces: 'Piece',
  piece: (name: string, count: number) => (count > 1 ? `${name} (${count} alike)` : name),
  together: 'Put together',
  alike: (n: number) => `${n} of these are made; their parts are alike.`,
  loading: 'Drawing …',
  loose: 'The parts of this job have no mates, so that nothing is known of how they go together.',
  noOrder: (why: string) => `No order is known in which it can be put together${why ? `: ${why}` : ''}.`,
  pictureOf: (name: string, step: number, of: number) =>
    `${name} in space, step ${step} of ${of}. Arrow keys turn it, plus and minus bring it nearer or farther, Home as at first.`,
  pictureApart: (name: string) =>
    `${name} in space, moved apart. Arrow keys turn it, plus and minus bring it nearer or farther, Home as at first.`,
  drawn: 'Drawn, since this browser shows nothing in space.',
  turnLeft: 'Turn left',
  turnRight: 'Turn right',
  fromAbove: 'More from above',
  fromBelow: 'More from below',
  nearer: 'Nearer',
  farther: 'Farther',
  asFirst: 'As at first',
  step: 'Step',
  stepOf: (n: number, of: number) => (n === 0 ? `Before the first of ${of} steps` : `Step ${n} of ${of}`),
  back: 'One step back',
  on: 'One step on',
  apart: 'All apart',
  whole: 'All together',
  start: 'All parts apart, each on the way by which it will come. One step on begins.',
  ways: {
    down: 'straight down',
    up: 'straight up',
    right: 'to the right',
    left: 'to the left',
    rear: 'to the rear',
    front: 'to the front',
    slanting: 'along the dashed lines',
  },
  moves: (moving: readonly string[], way: string, on: readonly string[]) =>
    `${moving.length > LISTED ? `${moving.length} parts` : list(moving)} ${moving.length === 1 ? 'moves' : 'move together'} ${way}${on.length === 0 ? '' : `, into ${on.length > LISTED ? `${on.length} others` : list(on)}`}.`,
  engage: (partners: readonly string[]) => {
    const met = [...new Set(partners)].map((p) => `${partners.filter((q) => q === p).length} with ${p}`);
    return partners.length === 1
      ? `One place engages, with ${partners[0]}.`
      : `${partners.length} places engage in this one move: ${list(met)}. Start all of them before pushing any home.`;
  },
  hands: ({ hands, people, weight }: { hands: number; people: number; weight: number }) => {
    const who = ['', 'one person', 'two people', 'three people', 'four people'][people];
    if (people === 1) return 'One person can do it.';
    return hands > 2 && people <= (hands <= 4 ? 2 : 3)
      ? `${hands} separate things must be held at once: ${who}.`
      : `What moves weighs about ${Math.round(weight)} kg: ${who}.`;
  },
  sand: (joints: readonly string[]) => `Have the sanding block at hand: ${list(joints)} may be tight.`,
  joints: 'Joints that go home:',
  before: 'Before you begin',
  cautions: [
    'Break sharp edges with sandpaper, and push no joint by force: look for a chip in it, or sand the plate where it enters.',
    'Tall pieces tip. Fix them to the wall before they are loaded, and rate no load without a test. Follow your local furniture safety rules, above all where children are about.',
  ],
} as const;
