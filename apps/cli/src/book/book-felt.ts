import { type DayBookEntry, JOINT_FELT } from '@haunch/gauge';
import { feltEntry, type JointFelt, type MadeRecord, withRest } from '@haunch/job/shop-book';
import { Command, InvalidArgumentError } from 'commander';
import { enterInDayBook, now } from '../day-book-file.js';
import { DONE, UsageError } from '../exit.js';
import { counted, line, named } from './book-line.js';
import { madeFolder } from './made-folder.js';

interface Said {
  readonly joint: string;
  readonly felt: JointFelt;
}

/** `M1=tight`, one or several with commas between. @throws InvalidArgumentError */
function saidOption(text: string, before: readonly Said[]): readonly Said[] {
  return [
    ...before,
    ...text.split(',').map((one) => {
      const [joint, word] = one.split('=').map((s) => s.trim());
      const felt = JOINT_FELT.find((f) => f === word);
      if (!joint || !felt)
        throw new InvalidArgumentError(
          `'${one}': say a joint and how it felt, such as M-S1-D1=tight; it is one of: ${JOINT_FELT.join(', ')}`,
        );
      return { joint, felt };
    }),
  ];
}

function entryOf(made: MadeRecord, said: Said): DayBookEntry {
  const { joints } = made.report;
  if (!joints.some((j) => j.joint === said.joint))
    throw new UsageError(
      `no joint '${said.joint}' was made there; its joints are ${named(
        joints.map((j) => j.joint),
        'none',
      )}`,
    );
  const entry = feltEntry(made, said, now());
  if (entry === null)
    throw new UsageError(
      `the proof foretold no clearance for joint '${said.joint}', so nothing can be learnt from it`,
    );
  return entry;
}

/** `haunch book felt <made> --joint M1=tight`: how joints felt when the piece was put together. */
export const bookFeltCommand = (exit: (code: number) => void): Command =>
  new Command('felt')
    .description('enter how joints of a make felt at assembly: tight, right or loose')
    .argument('<made>', 'the folder that haunch make wrote')
    .requiredOption('--book <file>', "the shop's day book (.jsonl)")
    .requiredOption('--joint <joint=felt>', 'such as M-S1-D1=tight; may be repeated', saidOption, [])
    .option('--rest <felt>', 'how all joints not named felt', (text: string): JointFelt => {
      const felt = JOINT_FELT.find((f) => f === text);
      if (!felt) throw new InvalidArgumentError(`'${text}' is none of ${JOINT_FELT.join(', ')}`);
      return felt;
    })
    .action(
      async (
        path: string,
        {
          book,
          joint,
          rest,
        }: { readonly book: string; readonly joint: readonly Said[]; readonly rest?: JointFelt },
      ) => {
        const made = await madeFolder(path);
        const said = new Set(joint.map((j) => j.joint));
        if (said.size < joint.length) throw new UsageError('a joint is named twice; say once how it felt');
        const entries = withRest(made, joint, rest).map((s) => entryOf(made, s));
        enterInDayBook(book, entries);
        const off = made.report.joints.filter((j) => j.verdict !== 'as wanted').length;
        line(
          `${counted(entries.length, 'joint')} entered${off > 0 ? ` (${off} of this make were not as wanted, which the proof said)` : ''}`,
        );
        line(`what they propose: haunch book propose --book ${book}`);
        exit(DONE);
      },
    );
