/** A file as it was dropped or chosen. */
export interface DroppedFile {
  readonly name: string;
  readonly content: Blob;
}
