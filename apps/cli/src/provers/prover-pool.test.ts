import type { ProofTask } from '@haunch/proof';
import { afterEach, describe, expect, it } from 'vitest';
import { type ProverPool, proverPool } from './prover-pool.js';
import { threadsForProofs } from './threads.js';

/** A thread that answers what its script says, given `id`, `task` and `port`. */
const script = (answer: string): URL =>
  new URL(
    `data:text/javascript,${encodeURIComponent(
      `import { parentPort as port } from 'node:worker_threads'; port.on('message', ({ id, task }) => { ${answer} });`,
    )}`,
  );
/** The pool passes tasks on as they are. */
const task = (board: string) => ({ kind: 'program', input: { text: board } }) as unknown as ProofTask;
const ECHO = 'port.postMessage({ id, outcome: { echo: task.input.text } })';

let pool: ProverPool;
const open = (threads: number, answer: string): ProverPool => {
  pool = proverPool(threads, script(answer))!;
  return pool;
};
afterEach(() => pool?.close());

describe('a pool of threads that prove', () => {
  it('gives each proof to who asked for it, also by several threads', async () => {
    const { prove } = open(2, `setTimeout(() => ${ECHO}, task.input.text === 'a' ? 30 : 0)`);
    const asked = ['a', 'b', 'c'].map((b) => prove(task(b)));
    expect(await Promise.all(asked)).toEqual([{ echo: 'a' }, { echo: 'b' }, { echo: 'c' }]);
  });

  it('rejects what a thread was at when it dies, and starts another for what comes next', async () => {
    const { prove } = open(1, `if (task.input.text === 'bad') process.exit(3); ${ECHO}`);
    await expect(prove(task('bad'))).rejects.toThrow('ended');
    expect(await prove(task('good'))).toEqual({ echo: 'good' });
  });

  it('rejects where a thread throws, and where it says that it failed', async () => {
    const { prove } = open(
      1,
      `if (task.input.text === 'throw') throw new Error('oh'); port.postMessage({ id, failure: 'no' })`,
    );
    await expect(prove(task('x'))).rejects.toThrow('no');
    await expect(prove(task('throw'))).rejects.toThrow('oh');
  });

  it('rejects what cannot be sent', async () => {
    const { prove } = open(1, ECHO);
    await expect(prove({ ...task('x'), extra: () => 1 } as unknown as ProofTask)).rejects.toThrow(
      'could not be cloned',
    );
    expect(await prove(task('y'))).toEqual({ echo: 'y' });
  });

  it('rejects what is still asked for when it is closed', async () => {
    const { prove } = open(1, '');
    const asked = prove(task('x'));
    pool.close();
    await expect(asked).rejects.toThrow('ended');
  });

  it('is none where this thread is to do all of it', () => {
    expect(proverPool(0, script(ECHO))).toBeUndefined();
  });
});

describe('HAUNCH_THREADS', () => {
  it('counts this thread too', () => {
    expect(threadsForProofs('1')).toBe(0);
    expect(threadsForProofs('4')).toBe(3);
    expect(threadsForProofs(undefined)).toBeLessThanOrEqual(3);
  });

  it.each(['0', '-1', 'two', '1.5', ' 2'])('refuses %j', (said) => {
    expect(() => threadsForProofs(said)).toThrow('HAUNCH_THREADS is a whole number of 1 or more');
  });
});
