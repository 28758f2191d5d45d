/**
 * Walks through XML that is written as exporters write it: UTF-8, elements, attributes and text. Whatever else XML
 * allows, and all that it forbids, is odd, and is left to the tokeniser that knows XML whole.
 * Source: XML 1.0, 2 and 3; what is taken is a part of it.
 */

export const ODD = 0;
export const OPEN = 1;
export const CLOSE = 2;
export const END = 3;

/** Deeper, or longer, is for the tokeniser to refuse. */
const DEEPEST = 60;
export const LONGEST_PIECE = 500_000;

const [TAB, LF, CR, SPACE, QUOTE, AMP, APOSTROPHE, SLASH, LT, EQUALS, GT, BRACKET] = [
  9, 10, 13, 32, 34, 38, 39, 47, 60, 61, 62, 93,
];
/** Begins the bytes of the two characters over U+00FF that XML forbids. */
const MAY_BE_FORBIDDEN = 0xef;

const isSpace = (c: number): boolean => c === SPACE || c === LF || c === TAB || c === CR;

/** What may stand in text as it is; the other bytes end it, or are odd. */
export const TEXT = Uint8Array.from({ length: 256 }, (_, c) =>
  (c < SPACE && !isSpace(c)) || c === LT || c === AMP || c === BRACKET || c === MAY_BE_FORBIDDEN ? 0 : 1,
);
/** 2 may begin a name, 1 may go on. */
const NAME = Uint8Array.from({ length: 256 }, (_, c) => {
  const sign = String.fromCharCode(c);
  return /[A-Za-z_]/.test(sign) ? 2 : /[\d.:-]/.test(sign) ? 1 : 0;
});

/** What stands for a sign that markup uses; each is one character. */
const ENTITIES = ['amp;', 'lt;', 'gt;', 'quot;', 'apos;'].map((text) => new TextEncoder().encode(text));

/** A name as it was first met. */
export interface PlainName {
  readonly text: string;
  readonly prefix: string;
  readonly local: string;
  /** What its local name is to whoever reads; 0 for all others. */
  readonly kind: number;
  readonly bytes: Uint8Array;
  /** The name that came after it last: it is looked for first. */
  after: PlainName | null;
}

export interface PlainAttribute {
  readonly name: PlainName;
  readonly from: number;
  readonly to: number;
  /** Whether a sign in it is written as an entity. */
  readonly escaped: boolean;
}

type Changing<T> = { -readonly [K in keyof T]: T[K] };

const SLOTS = 256;

export class PlainXml {
  readonly bytes: Uint8Array;
  /** Of the open element, or the one that ends; the root is 1. */
  depth = 0;
  name!: PlainName;
  /** Those of the element that was opened, so many; more are left of others. */
  readonly attributes: Changing<PlainAttribute>[] = [];
  attributeCount = 0;
  /** The text right before this tag. */
  textFrom = 0;
  textTo = 0;
  /** Whether a sign in that text is written as an entity. */
  escaped = false;
  #at: number;
  readonly #kinds: ReadonlyMap<string, number>;
  #closesItself = false;
  #wasRoot = false;
  readonly #open: PlainName[] = [];
  #last: PlainName | null = null;
  readonly #names: (PlainName | undefined)[] = new Array(SLOTS).fill(undefined);

  /** Begins at a byte, behind what a file begins with. */
  constructor(bytes: Uint8Array, at: number, kinds: ReadonlyMap<string, number>) {
    this.bytes = bytes;
    this.#at = at;
    this.#kinds = kinds;
  }

  /** Goes on to the next tag, and returns what it is. */
  next(): number {
    if (this.#closesItself) {
      this.#closesItself = false;
      this.escaped = false;
      this.textFrom = this.textTo = this.#at;
      return CLOSE;
    }
    if (!this.#text()) return ODD;
    if (this.#at === this.bytes.length) return this.depth === 0 && this.#wasRoot ? END : ODD;
    return this.bytes[this.#at + 1] === SLASH ? this.#closeTag() : this.#openTag();
  }

  /** After the end of an element its parent is open again. */
  leave(): void {
    this.depth -= 1;
  }

  /** Behind the tag. */
  get at(): number {
    return this.#at;
  }

  /** Goes on from there, what lies between being known to be whole elements. */
  passTo(at: number): void {
    this.#at = at;
  }

  #text(): boolean {
    const { bytes } = this;
    const from = this.#at;
    let at = from;
    this.escaped = false;
    for (;;) {
      while (TEXT[bytes[at]!] === 1) at += 1;
      if (bytes[at] !== AMP) break;
      const length = entityAt(bytes, at + 1);
      if (length === 0) return false;
      this.escaped = true;
      at += 1 + length;
    }
    if (at < bytes.length && bytes[at] !== LT) return false;
    if (at - from > LONGEST_PIECE) return false;
    if (this.depth === 0) for (let i = from; i < at; i += 1) if (!isSpace(bytes[i]!)) return false;
    this.textFrom = from;
    this.textTo = at;
    this.#at = at;
    return true;
  }

  #closeTag(): number {
    const { bytes } = this;
    if (this.depth === 0) return ODD;
    const name = this.#open[this.depth - 1]!;
    const length = name.bytes.length;
    let at = this.#at + 2;
    for (let i = 0; i < length; i += 1) if (bytes[at + i] !== name.bytes[i]) return ODD;
    at += length;
    while (isSpace(bytes[at]!)) at += 1;
    if (bytes[at] !== GT) return ODD;
    this.#at = at + 1;
    this.name = name;
    return CLOSE;
  }

  #openTag(): number {
    const { bytes } = this;
    if (this.depth === DEEPEST || (this.depth === 0 && this.#wasRoot)) return ODD;
    const from = this.#at;
    const name = this.#nameAt(from + 1);
    if (name === null) return ODD;
    let at = from + 1 + name.bytes.length;
    this.attributeCount = 0;
    for (;;) {
      const before = at;
      while (isSpace(bytes[at]!)) at += 1;
      const c = bytes[at];
      if (c === GT || c === SLASH) break;
      if (at === before) return ODD;
      at = this.#attribute(at);
      if (at < 0) return ODD;
    }
    if (at - from > LONGEST_PIECE) return ODD;
    this.#closesItself = bytes[at] === SLASH;
    if (this.#closesItself) at += 1;
    if (bytes[at] !== GT) return ODD;
    this.#at = at + 1;
    this.#open[this.depth] = name;
    this.depth += 1;
    this.#wasRoot = true;
    this.name = name;
    return OPEN;
  }

  /** Returns where the attribute ends, -1 where it is odd. */
  #attribute(begin: number): number {
    const { bytes, attributes } = this;
    const name = this.#nameAt(begin);
    if (name === null) return -1;
    for (let i = 0; i < this.attributeCount; i += 1) if (attributes[i]!.name.text === name.text) return -1;
    let at = begin + name.bytes.length;
    while (isSpace(bytes[at]!)) at += 1;
    if (bytes[at] !== EQUALS) return -1;
    at += 1;
    while (isSpace(bytes[at]!)) at += 1;
    const quote = bytes[at];
    if (quote !== QUOTE && quote !== APOSTROPHE) return -1;
    at += 1;
    const from = at;
    let escaped = false;
    for (;;) {
      const c = bytes[at]!;
      if (c === quote) break;
      if (TEXT[c] === 1 || c === BRACKET) at += 1;
      else {
        const length = c === AMP ? entityAt(bytes, at + 1) : 0;
        if (length === 0) return -1;
        escaped = true;
        at += 1 + length;
      }
    }
    attributes[this.attributeCount] ??= { name, from: 0, to: 0, escaped: false };
    const attribute = attributes[this.attributeCount]!;
    attribute.name = name;
    attribute.from = from;
    attribute.to = at;
    attribute.escaped = escaped;
    this.attributeCount += 1;
    return at + 1;
  }

  #nameAt(from: number): PlainName | null {
    const { bytes } = this;
    const likely = this.#last?.after ?? null;
    if (likely !== null && isSame(likely.bytes, bytes, from)) {
      this.#last = likely;
      return likely;
    }
    if (NAME[bytes[from]!] !== 2) return null;
    let hash = 0;
    let at = from;
    for (; NAME[bytes[at]!]! > 0; at += 1) hash = (Math.imul(hash, 31) + bytes[at]!) & 0xffff;
    const slot = hash % SLOTS;
    const known = this.#names[slot];
    if (known !== undefined && isSame(known.bytes, bytes, from)) return this.#follow(known);
    const text = String.fromCharCode(...bytes.subarray(from, Math.min(at, from + 201)));
    const colon = text.indexOf(':');
    if (text.length > 200 || colon === text.length - 1 || colon !== text.lastIndexOf(':')) return null;
    const name = {
      text,
      prefix: text.slice(0, Math.max(0, colon)),
      local: text.slice(colon + 1),
      kind: this.#kinds.get(text.slice(colon + 1)) ?? 0,
      bytes: bytes.slice(from, at),
      after: null,
    };
    this.#names[slot] = name;
    return this.#follow(name);
  }

  #follow(name: PlainName): PlainName {
    if (this.#last !== null) this.#last.after = name;
    this.#last = name;
    return name;
  }
}

/** Returns whether the name stands there, and ends there. */
function isSame(name: Uint8Array, bytes: Uint8Array, from: number): boolean {
  const { length } = name;
  for (let i = 0; i < length; i += 1) if (name[i] !== bytes[from + i]) return false;
  return NAME[bytes[from + length]!] === 0;
}

/** Returns how long the rest of an entity is, 0 where it is none of the five. */
function entityAt(bytes: Uint8Array, at: number): number {
  const found = ENTITIES.find((entity) => entity.every((byte, i) => bytes[at + i] === byte));
  return found?.length ?? 0;
}
