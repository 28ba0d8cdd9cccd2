import type { Diagnostic } from '@haunch/model';
import type { GroupCursor } from './group-cursor.js';
import type { FollowingRecords } from './raw-entity.js';
import { Tags } from './tags.js';

/** The group code that opens a record, and the one of comments. */
const RECORD = 0;
const COMMENT = 999;
const HEAD_COMMENTS = 20;

/** The records of a DXF, one at a time: a group 0 and all groups up to the next group 0. */
export class RecordStream implements FollowingRecords {
  /** The line on which the record begins that was taken or skipped last, and its type. */
  last: { readonly type: string; readonly line: number } | null = null;
  /** Comments (group 999) before the first record. */
  readonly comments: string[] = [];
  #type: string | null = null;
  #line = 0;

  constructor(
    private readonly cursor: GroupCursor,
    private readonly file: string,
    private readonly report: (d: Diagnostic) => void,
  ) {
    this.#advance(null);
  }

  peek(): string | null {
    return this.#type;
  }

  get line(): number {
    return this.#line;
  }

  take(): Tags {
    const tags = new Tags(this.#type ?? '', this.#line, this.file, this.report);
    this.#advance(tags);
    return tags;
  }

  skip(): void {
    this.#advance(null);
  }

  #advance(into: Tags | null): void {
    if (this.#type !== null) this.last = { type: this.#type, line: this.#line };
    const { cursor } = this;
    while (cursor.next()) {
      if (cursor.code === RECORD) {
        this.#type = cursor.value.trim().toUpperCase();
        this.#line = cursor.line;
        return;
      }
      if (cursor.code !== COMMENT) into?.push(cursor.code, cursor.value, cursor.line);
      else if (this.last === null && this.comments.length < HEAD_COMMENTS)
        this.comments.push(cursor.value.trim());
    }
    this.#type = null;
  }
}
