import type { Machine } from '@haunch/model';
import type { JobFile } from './job-schema.js';

/** The machine as a job describes it, without its calibration. mm, W. */
export function machineOfJob({ machine }: JobFile): Machine {
  const {
    post: _post,
    postOptions: _options,
    calibration: _calibration,
    toolLength: _length,
    ...rest
  } = machine;
  return rest;
}
