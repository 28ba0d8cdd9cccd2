/** Code pages of $DWGCODEPAGE by what follows `ANSI_` or `DOS`, as labels of the Encoding standard. */
const LABELS: Readonly<Record<string, string>> = {
  '874': 'windows-874',
  '932': 'shift_jis',
  '936': 'gbk',
  '949': 'euc-kr',
  '950': 'big5',
  '1250': 'windows-1250',
  '1251': 'windows-1251',
  '1252': 'windows-1252',
  '1253': 'windows-1253',
  '1254': 'windows-1254',
  '1255': 'windows-1255',
  '1256': 'windows-1256',
  '1257': 'windows-1257',
  '1258': 'windows-1258',
  '866': 'ibm866',
};

/** A decoder, or null where the label is unknown to this place. */
export function decoderOf(label: string): TextDecoder | null {
  try {
    return new TextDecoder(label);
  } catch {
    return null;
  }
}

/** Longer texts than this are not passed as arguments. */
const SHORT = 256;

/** The text that ASCII bytes spell, null where it is long. Handles are short and many: they go without a list. */
function asciiText(b: Uint8Array, from: number, to: number): string | null {
  const code = String.fromCharCode;
  switch (to - from) {
    case 0:
      return '';
    case 1:
      return code(b[from]!);
    case 2:
      return code(b[from]!, b[from + 1]!);
    case 3:
      return code(b[from]!, b[from + 1]!, b[from + 2]!);
    case 4:
      return code(b[from]!, b[from + 1]!, b[from + 2]!, b[from + 3]!);
    case 5:
      return code(b[from]!, b[from + 1]!, b[from + 2]!, b[from + 3]!, b[from + 4]!);
    case 6:
      return code(b[from]!, b[from + 1]!, b[from + 2]!, b[from + 3]!, b[from + 4]!, b[from + 5]!);
  }
  return to - from > SHORT ? null : code.apply(null, [...b.subarray(from, to)]);
}

/**
 * How the bytes of a DXF become text: UTF-8 from AC1021 on, the code page of $DWGCODEPAGE before it (DXF
 * reference, $ACADVER and $DWGCODEPAGE). A file that states no version is read as UTF-8 where its bytes are
 * valid UTF-8. Where that fails a text is read as ANSI_1252, and said. Never throws.
 */
export class TextDecoding {
  /** True once a text of a file that promises UTF-8 was no UTF-8. */
  notUtf8 = false;
  /** The code page that the file names and nobody here knows, once a text needed it. */
  unknownPage: string | null = null;
  #page: TextDecoder | null = null;
  #pageName: string | null = null;
  #promised: boolean;
  readonly #utf8 = new TextDecoder('utf-8', { fatal: true });
  readonly #ansi = new TextDecoder('windows-1252');

  /** @param given true where the bytes were made from a text, so that they are UTF-8 whatever the file says. */
  constructor(private readonly given: boolean) {
    this.#promised = given;
  }

  /** Takes over what the header says. */
  follow(version: string | null, codePage: string | null): void {
    if (this.given || version === null) return;
    const year = /^AC(\d{4})$/.exec(version);
    if (year !== null && Number(year[1]) >= 1021) {
      this.#promised = true;
      return;
    }
    const name = codePage === null || codePage === '' ? 'ANSI_1252' : codePage;
    const number = /^(?:ANSI_|DOS|IBM)?(\d{3,4})$/i.exec(name)?.[1];
    this.#page = number === undefined ? null : decoderOf(LABELS[number] ?? '');
    if (this.#page === null) this.#pageName = name;
    this.#page ??= this.#ansi;
  }

  decode(bytes: Uint8Array, from: number, to: number): string {
    for (let i = from; i < to; i++) if (bytes[i]! > 127) return this.#decodeAny(bytes.subarray(from, to));
    return asciiText(bytes, from, to) ?? this.#ansi.decode(bytes.subarray(from, to));
  }

  #decodeAny(bytes: Uint8Array): string {
    if (this.#page !== null) {
      if (this.#pageName !== null) this.unknownPage = this.#pageName;
      return this.#page.decode(bytes);
    }
    try {
      return this.#utf8.decode(bytes);
    } catch {
      if (this.#promised) this.notUtf8 = true;
      return this.#ansi.decode(bytes);
    }
  }
}
