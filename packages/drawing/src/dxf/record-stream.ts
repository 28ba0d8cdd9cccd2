import type { Diagnostic } from '@haunch/model';
import { GroupBuffer } from './group-buffer.js';
import type { GroupSource } from './group-source.js';
import { plainName } from './plain-text.js';
import type { FollowingRecords } from './raw-entity.js';
import { Tags, type Walk } from './tags.js';
import { WordCache } from './word-cache.js';

/** The group code that opens a record, and the one of comments. */
const RECORD = 0;
const COMMENT = 999;
/** Opens an object inside an entity, whose groups are not the entity's. */
const EMBEDDED = 101;
const HEAD_COMMENTS = 20;
/** One entity with all that belongs to it may have this many groups: four million vertices. */
export const MOST_GROUPS = 2 ** 24;

/** The records of a DXF, one at a time: a group 0 and all groups up to the next group 0. */
export class RecordStream implements FollowingRecords {
  /** The line on which the record begins that was taken or skipped last, and its type. */
  last: { readonly type: string; readonly line: number } | null = null;
  /** Comments (group 999) before the first record. */
  readonly comments: string[] = [];
  #type: string | null = null;
  #line = 0;
  readonly #words = new WordCache();
  readonly #layers = new WordCache();
  readonly #walk: Walk;

  constructor(
    private readonly groups: GroupSource,
    file: string,
    report: (d: Diagnostic) => void,
  ) {
    this.#walk = { groups, buffer: new GroupBuffer(MOST_GROUPS), words: this.#layers, file, report };
    this.#advance(null);
  }

  /** Whether an entity since the last `release` has more groups than are kept. */
  get overflowed(): boolean {
    return this.#walk.buffer.full;
  }

  /** Says that all records taken so far are done with. */
  release(): void {
    this.#walk.buffer.empty();
  }

  peek(): string | null {
    return this.#type;
  }

  get line(): number {
    return this.#line;
  }

  take(): Tags {
    const tags = new Tags(this.#type ?? '', this.#line, this.#walk);
    this.#advance(tags);
    return tags;
  }

  skip(): void {
    this.#advance(null);
  }

  #advance(into: Tags | null): void {
    if (this.#type !== null) this.last = { type: this.#type, line: this.#line };
    const { groups } = this;
    let own = true;
    while (groups.next()) {
      const { code } = groups;
      if (code === RECORD) {
        const { from, to } = groups;
        this.#type = this.#words.word(groups.bytes, from, to, () =>
          plainName(groups.text(code, from, to).toUpperCase()),
        );
        this.#line = groups.line;
        return;
      }
      if (code === EMBEDDED) own = false;
      if (code !== COMMENT) {
        if (own) into?.take();
      } else if (this.last === null && this.comments.length < HEAD_COMMENTS)
        this.comments.push(groups.text(code, groups.from, groups.to).trim());
    }
    this.#type = null;
  }
}
