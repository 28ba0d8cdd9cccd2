import { useEffect, useState } from 'preact/hooks';
import type { Desk } from '../../job/desk.js';
import { text } from '../../text/catalogue.js';

const words = text.assembly;

/** A drawn picture of a step, made in the worker: for browsers without WebGL. */
export function DrawnPicture(props: {
  readonly desk: Desk;
  readonly document: string;
  readonly piece: number;
  readonly step: number;
  readonly label: string;
}) {
  const { desk, document, piece, step } = props;
  const [url, setUrl] = useState<string | null>(null);
  useEffect(() => {
    let made: string | null = null;
    let wanted = true;
    void desk
      .ask((s) => s.assemblyPicture(document, piece, step))
      .then((svg) => {
        if (!wanted || svg === null) return;
        made = URL.createObjectURL(new Blob([svg], { type: 'image/svg+xml' }));
        setUrl(made);
      });
    return () => {
      wanted = false;
      if (made) URL.revokeObjectURL(made);
    };
  }, [desk, document, piece, step]);
  return (
    <figure class="picture paper drawn-step">
      {url === null ? <p class="soft">{words.loading}</p> : <img src={url} alt={props.label} />}
      <figcaption>{words.drawn}</figcaption>
    </figure>
  );
}
