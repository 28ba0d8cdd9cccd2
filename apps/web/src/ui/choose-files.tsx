import { useId, useRef } from 'preact/hooks';
import type { DroppedFile } from '../job/dropped-file.js';

/** A button that asks the browser for files. */
export function ChooseFiles(props: {
  readonly label: string;
  readonly main?: boolean;
  /** Endings of the files that are meant; those of drawings and jobs when left out. */
  readonly accept?: string;
  readonly onFiles: (files: readonly DroppedFile[]) => void;
}) {
  const id = useId();
  const field = useRef<HTMLInputElement>(null);
  return (
    <span>
      <input
        ref={field}
        id={id}
        type="file"
        multiple
        accept={props.accept ?? '.dxf,.svg,.json,.zip'}
        onChange={(e) => {
          const files = [...(e.currentTarget.files ?? [])].map((f) => ({ name: f.name, content: f }));
          props.onFiles(files);
          // The same file can be chosen again after it was changed.
          e.currentTarget.value = '';
        }}
      />
      <label for={id} class="button">
        {props.label}
      </label>
    </span>
  );
}
