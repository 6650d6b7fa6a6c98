/**
 * Tags that come again and again. A tag met once is kept as its bytes with the blanks behind it; where a later one differs
 * in attribute values only, those values become gaps. Whoever expects a known tag then compares eight bytes at a time
 * instead of reading letter by letter. Only plain ASCII is kept, so eight bytes taken as one double are never NaN nor
 * zero, and are equal as numbers exactly when they are equal as bytes.
 */
import type { Attributes } from './xml-sink.ts';

export const OPEN = 0;
export const CLOSE = 1;
export const EMPTY = 2;

/** One attribute: its name, and where its value stands in the bytes. */
export interface Place {
  name: string;
  from: number;
  to: number;
}

/** One tag as lexed: its bytes go from `from` to `to`, the blanks behind it included. */
export interface LexedTag {
  kind: number;
  name: string;
  from: number;
  to: number;
  places: readonly Place[];
}

export interface TagShape {
  readonly kind: number;
  readonly name: string;
  /** The text behind this tag is that of an array. */
  readonly isArray: boolean;
  /** False when no reader heeds this tag. */
  readonly heeded: boolean;
  /** Told attributes that are the same in every tag of this shape. */
  readonly fixed: Attributes;
  /** The attribute in each gap; undefined for one that nobody asks for. */
  readonly gaps: readonly (string | undefined)[];
  /** True when a told attribute stands in a gap. */
  readonly varies: boolean;
  /** Byte runs around the gaps: for each its length, its first word, its place in `bytes`. */
  readonly runs: Int32Array;
  readonly words: Float64Array;
  readonly bytes: Uint8Array;
  /** Shapes met behind this one. */
  readonly next: TagShape[];
  readonly key: string;
  /** By attribute: is its value a gap, and what was it at first? */
  readonly isGap: readonly boolean[];
  readonly values: readonly string[];
}

/** More shapes than any writer makes; a tag beyond them is read letter by letter. */
const MOST_SHAPES = 2000;
/** Most different tags expected behind one. */
const MOST_NEXT = 8;
const WORD = 8;
/** Values of these tell one tag from another; all other values may become gaps. */
const TELLING = new Set(['accession', 'cvRef', 'name', 'ref', 'unitAccession', 'unitCvRef', 'unitName']);

/** Attributes that a reader asks for inside a spectrum; the others are checked but not told. All are there from the start, so
 * that every set of attributes has the same layout in memory. */
function noneTold(): Attributes {
  const none: Record<string, undefined> = {
    accession: undefined,
    value: undefined,
    unitAccession: undefined,
    unitName: undefined,
    name: undefined,
    ref: undefined,
    defaultArrayLength: undefined,
    arrayLength: undefined,
    instrumentConfigurationRef: undefined,
  };
  return none as unknown as Attributes;
}

export class TagShapes {
  /** Stands before the first tag of a spectrum. */
  readonly start: TagShape = shapeOf(
    { kind: OPEN, name: '', from: 0, to: 0, places: [] },
    new Uint8Array(0),
    '',
    [],
    true,
  );
  readonly #known = new Map<string, TagShape>();

  /** The shape of a tag met behind `before`, now known there, with all the gaps that it needs. */
  learn(
    before: TagShape,
    bytes: Uint8Array,
    tag: LexedTag,
    heeds: (name: string, attributes: Attributes) => boolean,
  ): TagShape {
    const key = keyOf(bytes, tag);
    const known = this.#known.get(key);
    const isGap = tag.places.map(
      (place, k) =>
        known !== undefined && (known.isGap[k]! || known.values[k] !== textOf(bytes, place.from, place.to)),
    );
    let shape = known;
    if (known === undefined) {
      shape = shapeOf(tag, bytes, key, isGap, true);
      if (shape.kind === EMPTY && !heeds(shape.name, shape.fixed)) shape = { ...shape, heeded: false };
      if (this.#known.size >= MOST_SHAPES) return shape;
    } else if (isGap.some((gap, k) => gap !== known.isGap[k])) {
      const wider = shapeOf(tag, bytes, key, isGap, known.heeded);
      shape = { ...wider, next: known.next, values: known.values };
    }
    this.#known.set(key, shape!);
    const place = before.next.findIndex((one) => one.key === key);
    if (place >= 0) before.next[place] = shape!;
    else if (before.next.length < MOST_NEXT) before.next.push(shape!);
    return shape!;
  }
}

/**
 * Place behind a tag of this shape that begins at `at`, -1 when another tag stands there. The places of what fills the
 * gaps, from and to, are written into `found` from `slot` on.
 */
export function matchShape(
  shape: TagShape,
  bytes: Uint8Array,
  view: DataView,
  start: number,
  found: Int32Array,
  first: number,
): number {
  const { runs, words } = shape;
  const n = bytes.length;
  let at = start;
  let slot = first;
  for (let r = 0; ; ) {
    const length = runs[r]!;
    if (at + length > n) return -1;
    if (length >= WORD) {
      const last = length - WORD;
      let w = runs[r + 1]!;
      for (let i = 0; i < last; i += WORD, w += 1) if (view.getFloat64(at + i, true) !== words[w]!) return -1;
      if (view.getFloat64(at + last, true) !== words[w]!) return -1;
    } else {
      const from = runs[r + 2]!;
      for (let i = 0; i < length; i += 1) if (bytes[at + i] !== shape.bytes[from + i]) return -1;
    }
    at += length;
    r += 3;
    if (r === runs.length) return at;
    const plain = bytes[at - 1] === DOUBLE_QUOTE ? IN_DOUBLE : IN_SINGLE;
    found[slot] = at;
    while (at < n && plain[bytes[at]!] === 1) at += 1;
    found[slot + 1] = at;
    slot += 2;
  }
}

export function textOf(bytes: Uint8Array, from: number, to: number): string {
  if (to - from < 1024)
    return String.fromCharCode.apply(null, bytes.subarray(from, to) as unknown as number[]);
  let text = '';
  for (let i = from; i < to; i += 1) text += String.fromCharCode(bytes[i]!);
  return text;
}

/** The tag with all values left out that may become gaps. */
function keyOf(bytes: Uint8Array, { kind, from, to, places }: LexedTag): string {
  let key = String(kind);
  let at = from;
  for (const place of places) {
    if (TELLING.has(place.name)) continue;
    key += `${textOf(bytes, at, place.from)}\0`;
    at = place.to;
  }
  return key + textOf(bytes, at, to);
}

function shapeOf(
  { kind, name, from, to, places }: LexedTag,
  bytes: Uint8Array,
  key: string,
  isGap: readonly boolean[],
  heeded: boolean,
): TagShape {
  const fixed = noneTold();
  const gaps: (string | undefined)[] = [];
  const runs: number[] = [];
  const words: number[] = [];
  const kept = bytes.slice(from, to);
  const view = new DataView(kept.buffer, kept.byteOffset, kept.byteLength);
  const addRun = (first: number, end: number): void => {
    runs.push(end - first, words.length, first);
    if (end - first < WORD) return;
    for (let i = first; i < end - WORD; i += WORD) words.push(view.getFloat64(i, true));
    words.push(view.getFloat64(end - WORD, true));
  };
  let at = 0;
  places.forEach((place, k) => {
    const told = place.name in fixed && !(place.name === 'name' && name === 'cvParam');
    if (!isGap[k]) {
      if (told) fixed[place.name] = textOf(bytes, place.from, place.to);
      return;
    }
    gaps.push(told ? place.name : undefined);
    addRun(at, place.from - from);
    at = place.to - from;
  });
  addRun(at, to - from);
  return {
    kind,
    name,
    isArray: kind === OPEN && (name === 'binary' || name === 'peaks'),
    heeded,
    fixed,
    gaps,
    varies: gaps.some((gap) => gap !== undefined),
    runs: Int32Array.from(runs),
    words: Float64Array.from(words),
    bytes: kept,
    next: [],
    key,
    isGap,
    values: places.map((place) => textOf(bytes, place.from, place.to)),
  };
}

const DOUBLE_QUOTE = 0x22;
const IN_DOUBLE = plainValue('"');
const IN_SINGLE = plainValue("'");

/** 1 for each byte that may stand in a value of this quote: printable ASCII that is no markup. */
function plainValue(quote: string): Uint8Array {
  const table = new Uint8Array(256);
  for (let byte = 0x20; byte <= 0x7e; byte += 1)
    if (!`<&${quote}`.includes(String.fromCharCode(byte))) table[byte] = 1;
  return table;
}
