import { describe, expect, it } from 'vitest';
import { begin } from './history.js';
import { readSavedJob, savedJob, staleAsText } from './saved-job.js';

const whole = savedJob(
  begin({ id: 's1', text: '{"title":"A"}', sources: { 'a.dxf': new Blob(['x']) } }, 'opened'),
);

describe('a job that the browser kept', () => {
  it('is opened as it was', () => {
    expect(readSavedJob(whole)).toEqual({ kind: 'job', history: whole.history });
    expect(readSavedJob(undefined)).toEqual({ kind: 'nothing' });
  });

  it.each([
    ['of another version', { ...whole, version: 2 }],
    ['of another page', { format: 'other' }],
    ['without its steps', { ...whole, history: undefined }],
    [
      'whose text is no text',
      {
        ...whole,
        history: { ...whole.history, now: { done: '', document: { id: 's', text: 1, sources: {} } } },
      },
    ],
    [
      'whose text is cut off',
      {
        ...whole,
        history: { ...whole.history, now: { done: '', document: { id: 's', text: '{"a', sources: {} } } },
      },
    ],
    [
      'whose files are none',
      {
        ...whole,
        history: {
          ...whole.history,
          now: { done: '', document: { id: 's', text: '{}', sources: { a: 'x' } } },
        },
      },
    ],
    ['that is a number', 7],
  ])('%s is set aside, never opened', (_, record) =>
    expect(readSavedJob(record)).toEqual({ kind: 'stale', record }),
  );

  it('that is stale can be had as text, files and all', async () => {
    expect(JSON.parse(await staleAsText({ version: 0, job: 'old', files: [new Blob(['lines'])] }))).toEqual({
      version: 0,
      job: 'old',
      files: ['lines'],
    });
  });
});
