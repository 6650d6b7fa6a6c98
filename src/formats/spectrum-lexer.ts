/**
 * The fast way for the plain case: one whole <spectrum> that lies complete in the bytes at hand and holds nothing but
 * elements, plain ASCII attributes and array texts. It is first checked from end to end, tag by tag, by the shapes of the
 * tags met before; only then are its elements told to the sink. Anything else (a comment, an entity, a foreign character,
 * a fault) is left untouched for the strict parser, which alone gives verdicts.
 */
import {
  CLOSE,
  EMPTY,
  matchShape,
  OPEN,
  type Place,
  type TagShape,
  TagShapes,
  textOf,
} from './tag-shapes.ts';
import { isBlank } from './xml-bytes.ts';
import type { Attributes, XmlSink } from './xml-sink.ts';

const LESS = 0x3c;
const GREATER = 0x3e;
const SLASH = 0x2f;
const EQUALS = 0x3d;
const AMPERSAND = 0x26;
const DOUBLE_QUOTE = 0x22;
const SINGLE_QUOTE = 0x27;

const DEEPEST = 32;
const MOST_ATTRIBUTES = 60;
/** Longest tag with the blanks behind it; real ones stay under a tenth. */
const LONGEST_TAG = 4096;
/** Elements that change what a reader does beyond the spectrum at hand. */
const FOREIGN = new Set(['spectrum', 'chromatogram', 'run', 'referenceableParamGroup']);

/** The element is not plain: the strict parser must read it. */
export const NOT_PLAIN = -1;
/** All that is there is plain, but the end is missing. */
export const INCOMPLETE = -2;

export class SpectrumLexer {
  readonly #shapes = new TagShapes();
  /** Tags one after another, and for each its first gap and the places of its array text. */
  readonly #tags: TagShape[] = [];
  #marks = new Int32Array(3 * 1024);
  #gaps = new Int32Array(4096);
  #count = 0;
  #gapsUsed = 0;
  readonly #open: TagShape[] = [];
  #view: DataView = new DataView(new ArrayBuffer(0));
  #tag: TagShape = this.#shapes.start;
  #strings = new Map<string, string>();

  /** Place after the element that begins at `open`; else NOT_PLAIN or INCOMPLETE, and nothing was told. */
  read(bytes: Uint8Array, open: number, sink: XmlSink): number {
    const end = this.#check(bytes, open, sink);
    if (end >= 0) this.#tell(bytes, sink);
    return end;
  }

  #check(bytes: Uint8Array, from: number, sink: XmlSink): number {
    const view = this.#viewOf(bytes);
    const tags = this.#tags;
    const open = this.#open;
    let at = from;
    let depth = 0;
    let before = this.#shapes.start;
    this.#count = 0;
    this.#gapsUsed = 0;
    for (;;) {
      // `at` stands on '<', or at the end of the bytes.
      if (this.#gapsUsed + 2 * MOST_ATTRIBUTES > this.#gaps.length) this.#gaps = wider(this.#gaps);
      let end = -1;
      let tag = before;
      const { next } = before;
      for (let k = 0; k < next.length && end < 0; k += 1) {
        tag = next[k]!;
        end = matchShape(tag, bytes, view, at, this.#gaps, this.#gapsUsed);
      }
      if (end < 0) {
        end = this.#lex(bytes, at, before, depth, sink);
        if (end < 0) return end;
        tag = this.#tag;
      }
      const mark = 3 * this.#count;
      if (mark + 3 > this.#marks.length) this.#marks = wider(this.#marks);
      tags[this.#count] = tag;
      this.#marks[mark] = this.#gapsUsed;
      this.#count += 1;
      this.#gapsUsed += 2 * tag.gaps.length;
      at = end;
      before = tag;
      if (tag.kind === CLOSE) {
        depth -= 1;
        if (depth < 0 || open[depth]!.name !== tag.name) return NOT_PLAIN;
        if (depth === 0) return at;
      } else if (tag.kind === OPEN) {
        if (depth === DEEPEST) return NOT_PLAIN;
        open[depth] = tag;
        depth += 1;
        if (tag.isArray) {
          const text = bytes.indexOf(LESS, at);
          if (text < 0 || text + 1 === bytes.length) return INCOMPLETE;
          if (bytes[text + 1] !== SLASH) return NOT_PLAIN;
          this.#marks[mark + 1] = at;
          this.#marks[mark + 2] = text;
          at = text;
        }
      } else if (depth === 0) return NOT_PLAIN;
    }
  }

  /** Reads one tag letter by letter, with the blanks behind it, and learns its shape; returns the place after it. */
  #lex(bytes: Uint8Array, from: number, before: TagShape, depth: number, sink: XmlSink): number {
    const n = bytes.length;
    const stopped = (at: number): number => (at >= n && n - from <= LONGEST_TAG ? INCOMPLETE : NOT_PLAIN);
    let at = from;
    if (bytes[at] !== LESS) return stopped(at);
    const closing = bytes[at + 1] === SLASH;
    const nameFrom = at + (closing ? 2 : 1);
    at = nameEnd(bytes, nameFrom);
    if (at === nameFrom) return stopped(at);
    const name = this.#interned(textOf(bytes, nameFrom, at));
    let kind = closing ? CLOSE : OPEN;
    const places: Place[] = [];
    if (!closing && depth > 0 && FOREIGN.has(name)) return stopped(at);
    for (;;) {
      const blank = at;
      while (isBlank(bytes[at])) at += 1;
      const byte = bytes[at];
      if (byte === GREATER) break;
      if (closing) return stopped(at);
      if (byte === SLASH) {
        at += 1;
        if (bytes[at] !== GREATER) return stopped(at);
        kind = EMPTY;
        break;
      }
      if (at === blank || places.length === MOST_ATTRIBUTES) return stopped(at);
      const nameAt = at;
      at = nameEnd(bytes, nameAt);
      if (at === nameAt) return stopped(at);
      const attribute = this.#interned(textOf(bytes, nameAt, at));
      if (places.some((place) => place.name === attribute)) return stopped(at);
      while (isBlank(bytes[at])) at += 1;
      if (bytes[at] !== EQUALS) return stopped(at);
      at += 1;
      while (isBlank(bytes[at])) at += 1;
      const quote = bytes[at];
      if (quote !== DOUBLE_QUOTE && quote !== SINGLE_QUOTE) return stopped(at);
      at += 1;
      const valueFrom = at;
      for (; bytes[at] !== quote; at += 1) {
        const value = bytes[at];
        if (value === undefined || value < 0x20 || value > 0x7e || value === LESS || value === AMPERSAND)
          return stopped(at);
      }
      places.push({ name: attribute, from: valueFrom, to: at });
      at += 1;
    }
    at += 1;
    const isLast = kind === CLOSE && depth === 1;
    const isArray = kind === OPEN && (name === 'binary' || name === 'peaks');
    if (!isLast && !isArray) {
      while (isBlank(bytes[at])) at += 1;
      if (bytes[at] !== LESS) return stopped(at);
    }
    if (at - from > LONGEST_TAG) return NOT_PLAIN;
    const tag = { kind, name, from, to: at, places };
    const shape = this.#shapes.learn(before, bytes, tag, (element, attributes) =>
      sink.heeds(element, attributes),
    );
    let slot = this.#gapsUsed;
    places.forEach((place, k) => {
      if (!shape.isGap[k]) return;
      this.#gaps[slot] = place.from;
      this.#gaps[slot + 1] = place.to;
      slot += 2;
    });
    this.#tag = shape;
    return at;
  }

  #tell(bytes: Uint8Array, sink: XmlSink): void {
    let depth = 0;
    for (let i = 0; i < this.#count; i += 1) {
      const tag = this.#tags[i]!;
      if (!tag.heeded) continue;
      if (tag.kind === CLOSE) {
        sink.close(tag.name);
        depth -= 1;
      } else {
        sink.open(tag.name, tag.varies ? this.#attributes(bytes, tag, this.#marks[3 * i]!) : tag.fixed);
        if (tag.kind === EMPTY) sink.close(tag.name);
        else {
          depth += 1;
          if (tag.isArray && sink.wantsArray()) {
            const [from, to] = [this.#marks[3 * i + 1]!, this.#marks[3 * i + 2]!];
            if (to > from) sink.arrayText(bytes.subarray(from, to));
          }
          continue;
        }
      }
      if (depth === 1 && sink.skipsRest()) {
        sink.close(this.#tags[0]!.name);
        return;
      }
    }
  }

  #attributes(bytes: Uint8Array, tag: TagShape, first: number): Attributes {
    const told: Attributes = { ...tag.fixed };
    for (let k = 0, slot = first; k < tag.gaps.length; k += 1, slot += 2) {
      const name = tag.gaps[k];
      if (name !== undefined) told[name] = textOf(bytes, this.#gaps[slot]!, this.#gaps[slot + 1]!);
    }
    return told;
  }

  #viewOf(bytes: Uint8Array): DataView {
    const { buffer, byteOffset, byteLength } = bytes;
    const view = this.#view;
    if (view.buffer !== buffer || view.byteOffset !== byteOffset || view.byteLength !== byteLength)
      this.#view = new DataView(buffer, byteOffset, byteLength);
    return this.#view;
  }

  /** One string for all that are equal, which makes comparing them cheap. */
  #interned(text: string): string {
    const known = this.#strings.get(text);
    if (known !== undefined) return known;
    if (this.#strings.size < 2000) this.#strings.set(text, text);
    return text;
  }
}

function wider(marks: Int32Array): Int32Array<ArrayBuffer> {
  const twice = new Int32Array(2 * marks.length);
  twice.set(marks);
  return twice;
}

/** First place that is no letter, digit or one of `_ - .`; `from` itself when no name can begin there. */
function nameEnd(bytes: Uint8Array, from: number): number {
  let at = from;
  const first = NAME_BYTES[bytes[at] ?? 0]!;
  if (first !== 2) return from;
  while (NAME_BYTES[bytes[at] ?? 0]! !== 0) at += 1;
  return at;
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
