/**
 * The fast way for the plain case: one whole <spectrum> that lies complete in the bytes at hand and holds nothing but
 * elements, plain ASCII attributes and array texts. It is first checked from end to end, tag by tag; only then are its
 * elements told to the sink. Anything else (a comment, an entity, a foreign character, a fault) is left untouched for the
 * strict parser, which alone gives verdicts.
 */
import type { Attributes, XmlSink } from './xml-sink.ts';

const LESS = 0x3c;
const GREATER = 0x3e;
const SLASH = 0x2f;
const EQUALS = 0x3d;
const AMPERSAND = 0x26;
const DOUBLE_QUOTE = 0x22;
const SINGLE_QUOTE = 0x27;

const DEEPEST = 32;
/** Attributes that a sink reads inside a spectrum; the others are checked but not told. */
const TOLD = new Set(
  'accession value unitAccession unitName name ref id defaultArrayLength arrayLength instrumentConfigurationRef'.split(
    ' ',
  ),
);

const OPEN = 0;
const CLOSE = 1;
const EMPTY = 2;

export class SpectrumLexer {
  /** Tags one after another: kind, name from, name to, end of tag, number of attributes, then four places for each. */
  #tags = new Int32Array(4096);
  #used = 0;
  readonly #stack = new Int32Array(2 * DEEPEST);
  readonly #names = new Interned();

  /** Place after the element that begins at `open`; -1 when it is not plain or not complete, and nothing was told. */
  read(bytes: Uint8Array, open: number, sink: XmlSink): number {
    const end = this.#check(bytes, open);
    if (end >= 0) this.#tell(bytes, sink);
    return end;
  }

  #check(bytes: Uint8Array, open: number): number {
    const n = bytes.length;
    let at = open;
    let depth = 0;
    this.#used = 0;
    while (at < n) {
      // at stands on '<'
      const closing = bytes[at + 1] === SLASH;
      const nameFrom = at + (closing ? 2 : 1);
      const nameTo = nameEnd(bytes, nameFrom);
      if (nameTo === nameFrom) return -1;
      if (this.#used + 400 > this.#tags.length) this.#widen();
      const head = this.#used;
      this.#used += 5;
      at = nameTo;
      let kind = closing ? CLOSE : OPEN;
      let attributes = 0;
      if (closing) {
        while (isSpace(bytes[at])) at += 1;
        if (bytes[at] !== GREATER || depth === 0) return -1;
        depth -= 1;
        if (!same(bytes, this.#stack[2 * depth]!, this.#stack[2 * depth + 1]!, nameFrom, nameTo)) return -1;
      } else {
        for (;;) {
          const blank = at;
          while (isSpace(bytes[at])) at += 1;
          const byte = bytes[at];
          if (byte === GREATER) break;
          if (byte === SLASH) {
            at += 1;
            if (bytes[at] !== GREATER) return -1;
            kind = EMPTY;
            break;
          }
          if (at === blank || attributes >= 60) return -1;
          const next = this.#attribute(bytes, at, head, attributes);
          if (next < 0) return -1;
          at = next;
          attributes += 1;
        }
        if (kind === OPEN) {
          if (depth === DEEPEST) return -1;
          this.#stack[2 * depth] = nameFrom;
          this.#stack[2 * depth + 1] = nameTo;
          depth += 1;
        }
      }
      at += 1;
      this.#tags[head] = kind;
      this.#tags[head + 1] = nameFrom;
      this.#tags[head + 2] = nameTo;
      this.#tags[head + 3] = at;
      this.#tags[head + 4] = attributes;
      if (depth === 0) return at;
      // Text up to the next tag: blank, unless it is the text of an array.
      if (kind === OPEN && isArray(bytes, nameFrom, nameTo)) {
        at = bytes.indexOf(LESS, at);
        if (at < 0 || bytes[at + 1] !== SLASH) return -1;
      } else {
        while (isSpace(bytes[at])) at += 1;
        if (bytes[at] !== LESS) return -1;
      }
    }
    return -1;
  }

  /** Place after one attribute with a plain quoted value, -1 for anything else. */
  #attribute(bytes: Uint8Array, from: number, head: number, index: number): number {
    const to = nameEnd(bytes, from);
    if (to === from) return -1;
    for (let k = 0, slot = head + 5; k < index; k += 1, slot += 4) {
      if (same(bytes, this.#tags[slot]!, this.#tags[slot + 1]!, from, to)) return -1;
    }
    let at = to;
    while (isSpace(bytes[at])) at += 1;
    if (bytes[at] !== EQUALS) return -1;
    at += 1;
    while (isSpace(bytes[at])) at += 1;
    const quote = bytes[at];
    if (quote !== DOUBLE_QUOTE && quote !== SINGLE_QUOTE) return -1;
    at += 1;
    const valueFrom = at;
    for (; bytes[at] !== quote; at += 1) {
      const byte = bytes[at];
      if (byte === undefined || byte < 0x20 || byte > 0x7e || byte === LESS || byte === AMPERSAND) return -1;
    }
    const slot = this.#used;
    this.#tags[slot] = from;
    this.#tags[slot + 1] = to;
    this.#tags[slot + 2] = valueFrom;
    this.#tags[slot + 3] = at;
    this.#used += 4;
    return at + 1;
  }

  #tell(bytes: Uint8Array, sink: XmlSink): void {
    const tags = this.#tags;
    let depth = 0;
    let i = 0;
    while (i < this.#used) {
      const kind = tags[i]!;
      const name = this.#names.of(bytes, tags[i + 1]!, tags[i + 2]!);
      const tagEnd = tags[i + 3]!;
      const count = tags[i + 4]!;
      if (kind === CLOSE) {
        sink.close(name);
        depth -= 1;
      } else {
        sink.open(name, this.#attributes(bytes, i + 5, count, name));
        if (kind === EMPTY) sink.close(name);
        else depth += 1;
      }
      i += 5 + 4 * count;
      if (kind === OPEN && (name === 'binary' || name === 'peaks') && sink.wantsArray()) {
        // The next tag closes the array: its '<' stands two places before its name.
        const textEnd = tags[i + 1]! - 2;
        if (textEnd > tagEnd) sink.arrayText(bytes.subarray(tagEnd, textEnd));
      }
      if (kind !== OPEN && depth === 1 && sink.skipsRest()) {
        sink.close(this.#names.of(bytes, tags[1]!, tags[2]!));
        return;
      }
    }
  }

  #attributes(bytes: Uint8Array, first: number, count: number, element: string): Attributes {
    const told: Attributes = {};
    for (let k = 0, slot = first; k < count; k += 1, slot += 4) {
      const name = this.#names.of(bytes, this.#tags[slot]!, this.#tags[slot + 1]!);
      if (!TOLD.has(name) || (name === 'name' && element === 'cvParam')) continue;
      const from = this.#tags[slot + 2]!;
      const to = this.#tags[slot + 3]!;
      const repeats = name === 'accession' || name === 'unitAccession' || name === 'unitName';
      told[name] = repeats ? this.#names.of(bytes, from, to) : textOf(bytes, from, to);
    }
    return told;
  }

  #widen(): void {
    const wider = new Int32Array(this.#tags.length * 2);
    wider.set(this.#tags);
    this.#tags = wider;
  }
}

/** Strings that come again and again are made once. */
class Interned {
  readonly #strings: (string | undefined)[] = new Array<string | undefined>(4096).fill(undefined);

  of(bytes: Uint8Array, from: number, to: number): string {
    let hash = to - from;
    for (let i = from; i < to; i += 1) hash = (Math.imul(hash, 31) + bytes[i]!) | 0;
    const slot = (hash ^ (hash >>> 12)) & 4095;
    const known = this.#strings[slot];
    if (known !== undefined && known.length === to - from) {
      let i = 0;
      while (i < known.length && known.charCodeAt(i) === bytes[from + i]) i += 1;
      if (i === known.length) return known;
    }
    const text = textOf(bytes, from, to);
    if (text.length < 64) this.#strings[slot] = text;
    return text;
  }
}

function textOf(bytes: Uint8Array, from: number, to: number): string {
  if (to - from < 1024)
    return String.fromCharCode.apply(null, bytes.subarray(from, to) as unknown as number[]);
  let text = '';
  for (let i = from; i < to; i += 1) text += String.fromCharCode(bytes[i]!);
  return text;
}

/** First place that is no letter, digit or one of `_ - .`; `from` itself when no name can begin there. */
function nameEnd(bytes: Uint8Array, from: number): number {
  let at = from;
  const first = NAME_BYTES[bytes[at] ?? 0]!;
  if (first !== 2) return from;
  while (NAME_BYTES[bytes[at] ?? 0]! !== 0) at += 1;
  return at;
}

function isSpace(byte: number | undefined): boolean {
  return byte === 0x20 || byte === 0x0a || byte === 0x09 || byte === 0x0d;
}

function same(bytes: Uint8Array, aFrom: number, aTo: number, bFrom: number, bTo: number): boolean {
  if (aTo - aFrom !== bTo - bFrom) return false;
  for (let i = 0; i < aTo - aFrom; i += 1) if (bytes[aFrom + i] !== bytes[bFrom + i]) return false;
  return true;
}

function isArray(bytes: Uint8Array, from: number, to: number): boolean {
  return (
    (to - from === 6 && textOf(bytes, from, to) === 'binary') ||
    (to - from === 5 && textOf(bytes, from, to) === 'peaks')
  );
}

/** 2: may begin a name, 1: may go on in one. */
const NAME_BYTES = nameBytes();

function nameBytes(): Uint8Array {
  const table = new Uint8Array(256);
  for (let byte = 0; byte < 128; byte += 1) {
    const character = String.fromCharCode(byte);
    if (/[A-Za-z_]/.test(character)) table[byte] = 2;
    else if (/[0-9.-]/.test(character)) table[byte] = 1;
  }
  return table;
}
