import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import type { DroppedFile } from '../../job/dropped-file.js';

/** A place on which files are dropped. */
export function DropPlace(props: {
  readonly onFiles: (files: readonly DroppedFile[]) => void;
  readonly children: ComponentChildren;
}) {
  const [over, setOver] = useState(false);
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: dropping is for the mouse; the button inside does the same for all
    <div
      class={over ? 'drop over' : 'drop'}
      onDragEnter={() => setOver(true)}
      onDragLeave={(e) => {
        if (!e.currentTarget.contains(e.relatedTarget as Node | null)) setOver(false);
      }}
      onDrop={(e) => {
        e.preventDefault();
        e.stopPropagation();
        setOver(false);
        props.onFiles([...(e.dataTransfer?.files ?? [])].map((f) => ({ name: f.name, content: f })));
      }}
    >
      {props.children}
    </div>
  );
}
