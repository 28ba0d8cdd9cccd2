import { useEffect, useRef, useState } from 'preact/hooks';
import type { Desk } from '../../job/desk.js';
import type { DescribedSource } from '../../work/drawing-wire.js';
import type { Reply } from '../../work/wire.js';
import type { OpenJob } from '../screen.js';

/** What is in a piece of the job, asked anew when the piece or its file changes; the last answer stays until the next one is there. */
export function useDescribed(job: OpenJob, index: number, desk: Desk): Reply<DescribedSource> | null {
  const [reply, set] = useState<Reply<DescribedSource> | null>(null);
  const piece = job.text.pieces[index]!;
  const content = job.document.sources[piece.source];
  const { count: _, stock: __, prefix: ___, ...reading } = piece;
  const key = JSON.stringify(reading);
  const asked = useRef(0);
  useEffect(() => {
    const mine = ++asked.current;
    void desk
      .ask((service, document) => service.describe(document, index))
      .then((answer) => {
        if (answer && mine === asked.current) set(answer);
      });
  }, [key, content]);
  return reply;
}
