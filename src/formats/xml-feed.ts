/**
 * Bytes of an XML document in, elements and array texts out. A byte scanner cuts the text of <binary> and <peaks> out of
 * the stream, because it is half of a run file and needs no character decoding; all else goes through a strict parser,
 * which refuses what is not well formed. Document type declarations are refused: a run file needs none, and they are the
 * door of entity expansion.
 */
import { SaxesParser } from 'saxes';
import { inputError } from '../core/errors.ts';
import { HeldBytes } from './held-bytes.ts';
import { INCOMPLETE, SpectrumLexer } from './spectrum-lexer.ts';
import { textStream } from './text-encoding.ts';
import {
  afterOffsets,
  arrayTag,
  ascii,
  BANG,
  CDATA_CLOSE,
  CDATA_OPEN,
  COMMENT_CLOSE,
  COMMENT_OPEN,
  declarationAt,
  indexOfAll,
  isBlank,
  isSpectrum,
  LESS,
  LETTER_D,
  PI_CLOSE,
  QUESTION,
  visible,
} from './xml-bytes.ts';
import type { Attributes, XmlSink } from './xml-sink.ts';

/** Longest stretch of markup between two '<': a longer one is no run file, and would fill the memory. */
const LONGEST_MARKUP = 4 * 2 ** 20;
/** Longest spectrum that is waited for; of a longer one only the arrays are read the fast way. */
const LONGEST_HELD = 16 * 2 ** 20;
/** By so much must a spectrum that is not whole have grown before it is looked at again. */
const HELD_GROWTH = 1.25;
const WRONG_END_TAG = 'unexpected close tag.';
const LONGEST_REASON = 120;
/** Longest name of an entity or character reference. */
const LONGEST_ENTITY = 64;
/** Deepest nesting; run files stay under 12, mzXML with nested scans under 20. */
const DEEPEST = 200;

/** Encodings in which the bytes of ASCII text are that text. */
const PLAIN_LABELS = /^(utf-?8|us-ascii|ascii|iso-8859-\d+|windows-125\d|latin1)$/i;
const IN_TEXT = textState();

/** Thrown inside the feed to stop it; turned into `broken`. */
class Break extends Error {}

export class XmlFeed {
  broken: { byte: number; reason: string } | undefined;
  /** True once the root element was closed: what follows is not read. */
  finished = false;
  /** Bytes other than white space after the root element. */
  trailing = 0;

  readonly #sink: XmlSink;
  readonly #parser = new SaxesParser({ xmlns: false });
  readonly #text: ReturnType<typeof textStream>;
  readonly #stack: string[] = [];
  /** Bytes left from the last piece because a decision needs more of them, and how many it needs at least. */
  readonly #held = new HeldBytes();
  #needed = 0;
  /** Position in the document of the first byte of the piece at hand. */
  #base = 0;
  /** What the strict parser was given last: the text, the place of its first byte, and the characters before it. */
  #givenText = '';
  #givenByte = 0;
  #givenChars = 0;
  #state: 'markup' | 'array' | 'comment' | 'cdata' | 'instruction' = 'markup';
  #lexer: SpectrumLexer | undefined;
  #insideArray = false;
  #wanted = false;
  #sinceMarkup = 0;
  /** Length of an entity reference that made reading stop: the fault lies where it began. */
  #pending = 0;
  /** An end tag met but not yet known to be the right one, and its place in the text given last. */
  #closing: string | undefined;
  #closingEnd = 0;
  /** Characters of the text given last that stand before the end of the root element. */
  #rootEnd = 0;

  /**
   * `skipped` bytes, a byte order mark, were left out before the first piece. `strict` sends every element through the
   * strict parser; the tests hold both ways against each other.
   */
  constructor(sink: XmlSink, label: string, skipped: number, strict = false) {
    if (!strict && PLAIN_LABELS.test(label)) this.#lexer = new SpectrumLexer();
    this.#sink = sink;
    this.#base = skipped;
    this.#text = textStream(label);
    const parser = this.#parser;
    parser.on('error', (error) => {
      // The parser tells of a closed element before it finds that the end tag names another one.
      if (!error.message.endsWith(WRONG_END_TAG)) this.#settleClose();
      throw new Break(plainReason(error.message));
    });
    parser.on('opentag', (tag) => {
      this.#settleClose();
      this.#open(tag.name, tag.attributes as Attributes);
    });
    parser.on('closetag', (tag) => {
      this.#settleClose();
      this.#closing = tag.name;
      this.#closingEnd = this.#charsRead();
    });
    parser.on('cdata', (text) => {
      if (this.#insideArray && this.#wanted) sink.arrayText(ascii(text));
    });
  }

  /** The element in which reading stands, or '' outside the root. */
  get element(): string {
    return this.#stack.at(-1) ?? '';
  }

  push(piece: Uint8Array): void {
    if (this.broken) return;
    const bytes = this.#held.join(piece);
    if (bytes.length < this.#needed) this.#held.keep(bytes, 0);
    else this.#take(bytes);
  }

  #take(bytes: Uint8Array): void {
    this.#needed = 0;
    let used = 0;
    try {
      if (!this.finished) used = this.#scan(bytes);
    } catch (error) {
      if (!(error instanceof Break)) throw error;
      this.#stop(this.#byteAtParser() - this.#pending, error.message);
      return;
    }
    if (this.finished) {
      this.trailing += visible(bytes.subarray(used));
      used = bytes.length;
    }
    this.#held.keep(bytes, used);
    this.#base += used;
  }

  /** `failure` tells why the source of the bytes ended early, when it did. */
  end(failure?: string): void {
    if (this.broken) return;
    if (this.#needed > 0) {
      // A spectrum that never became whole: the strict parser tells what is left of it.
      this.#lexer = undefined;
      this.#take(this.#held.join(new Uint8Array(0)));
      if (this.broken) return;
    }
    const byte = this.#base + this.#held.length;
    if (failure !== undefined) this.#stop(byte, failure);
    else if (!this.finished) {
      const where = this.element === '' ? 'before its first element' : `inside <${this.element}>`;
      this.#stop(byte, `the file ends ${where}`);
    }
  }

  #stop(byte: number, reason: string): void {
    this.broken = { byte: Math.max(0, byte), reason };
    this.#held.length = 0;
  }

  /** Reads as much of `bytes` as can be decided and returns how much that was. */
  #scan(bytes: Uint8Array): number {
    let at = 0;
    let given = 0;
    const n = bytes.length;
    while (at < n && !this.finished) {
      if (this.#state === 'array') {
        const next = bytes.indexOf(LESS, at);
        const end = next < 0 ? n : next;
        if (this.#wanted && end > at) this.#sink.arrayText(bytes.subarray(at, end));
        at = end;
        given = end;
        if (next < 0) return n;
        this.#state = 'markup';
        this.#sinceMarkup = 0;
      }
      if (this.#state !== 'markup') {
        const close =
          this.#state === 'comment' ? COMMENT_CLOSE : this.#state === 'cdata' ? CDATA_CLOSE : PI_CLOSE;
        const end = indexOfAll(bytes, close, at);
        if (end < 0) {
          const keep = Math.max(at, n - close.length + 1);
          this.#hold(keep - at);
          this.#give(bytes, given, keep);
          return keep;
        }
        at = end + close.length;
        this.#state = 'markup';
        this.#sinceMarkup = 0;
        if (this.#insideArray) {
          this.#give(bytes, given, at);
          given = at;
          this.#state = 'array';
        }
        continue;
      }
      const open = bytes.indexOf(LESS, at);
      if (open < 0) {
        this.#hold(n - at);
        this.#give(bytes, given, n);
        return n;
      }
      this.#sinceMarkup = 0;
      const first = bytes[open + 1];
      if (first === undefined) {
        this.#give(bytes, given, open);
        return open;
      }
      if (first === BANG || first === QUESTION) {
        const kind = first === QUESTION ? 'instruction' : declarationAt(bytes, open);
        if (kind === undefined) {
          this.#give(bytes, given, open);
          return open;
        }
        if (kind === 'other' && (bytes[open + 2]! | 0x20) === LETTER_D) refuseDoctype();
        at = open + 2;
        if (kind === 'comment') at = open + COMMENT_OPEN.length;
        else if (kind === 'cdata') at = open + CDATA_OPEN.length;
        if (kind !== 'other') this.#state = kind;
        continue;
      }
      this.#insideArray = false;
      if (this.#lexer !== undefined && isSpectrum(bytes, open)) {
        this.#give(bytes, given, open);
        given = open;
        if (this.element === 'spectrumList' && stateOf(this.#parser) === IN_TEXT) {
          let end = this.#lexer.read(bytes, open, this.#sink);
          if (end >= 0) {
            // Blanks between spectra mean nothing to the parser either.
            while (isBlank(bytes[end])) end += 1;
            at = end;
            given = end;
            continue;
          }
          if (end === INCOMPLETE && n - open < LONGEST_HELD) {
            this.#needed = Math.ceil((n - open) * HELD_GROWTH);
            return open;
          }
        }
      }
      if (this.#lexer !== undefined && this.element === 'index') {
        this.#give(bytes, given, open);
        given = open;
        const end = stateOf(this.#parser) === IN_TEXT ? afterOffsets(bytes, open) : open;
        if (end > open) {
          at = end;
          given = end;
          continue;
        }
      }
      const tag = arrayTag(bytes, open);
      if (tag === 'more') {
        this.#hold(n - open);
        this.#give(bytes, given, open);
        return open;
      }
      if (tag === undefined) {
        at = open + 1;
        continue;
      }
      at = tag.end;
      if (tag.empty) continue;
      this.#give(bytes, given, at);
      given = at;
      this.#insideArray = true;
      this.#wanted = this.#sink.wantsArray();
      this.#state = 'array';
    }
    this.#give(bytes, given, at);
    return at;
  }

  #give(bytes: Uint8Array, from: number, to: number): void {
    if (to <= from) return;
    this.#givenByte = this.#base + from;
    this.#givenChars += this.#givenText.length;
    this.#givenText = this.#text.decode(bytes.subarray(from, to), { stream: true });
    try {
      this.#parser.write(this.#givenText);
      this.#settleClose();
    } catch (error) {
      // What stands behind the root element may be anything: it is counted, not judged.
      if (!(error instanceof Break && this.finished)) throw error;
    }
    if (this.finished) {
      const inside = this.#text.bytesOf(this.#givenText.slice(0, this.#rootEnd));
      this.trailing += visible(bytes.subarray(from + inside, to));
    }
    if (!this.finished && pendingEntity(this.#parser) > LONGEST_ENTITY) {
      this.#pending = pendingEntity(this.#parser);
      throw new Break('an entity reference without end');
    }
  }

  /** Place in the text given last up to which the parser has read. */
  #charsRead(): number {
    return Math.max(0, this.#parser.position - this.#givenChars);
  }

  #byteAtParser(): number {
    return this.#givenByte + this.#text.bytesOf(this.#givenText.slice(0, this.#charsRead()));
  }

  #hold(bytes: number): void {
    this.#sinceMarkup += bytes;
    if (this.#sinceMarkup > LONGEST_MARKUP) throw new Break('a stretch of markup longer than 4 MiB');
  }

  #open(name: string, attributes: Attributes): void {
    if (this.#stack.length >= DEEPEST) throw new Break('elements nested deeper than 200');
    const local = localName(name);
    this.#stack.push(local);
    this.#sink.open(local, attributes);
  }

  #settleClose(): void {
    const name = this.#closing;
    if (name === undefined) return;
    this.#closing = undefined;
    this.#stack.pop();
    this.#sink.close(localName(name));
    if (this.#stack.length === 0) {
      this.finished = true;
      this.#rootEnd = this.#closingEnd;
    }
  }
}

function refuseDoctype(): never {
  throw inputError(
    'invalid',
    'run file',
    'a document type declaration',
    'mzML or mzXML, which need no declaration of types or entities',
  );
}

/** The parser's own state: only in plain text between elements may a whole element be kept from it. */
function stateOf(parser: SaxesParser): number | undefined {
  return (parser as unknown as { state?: number }).state;
}

function textState(): number | undefined {
  const parser = new SaxesParser({ xmlns: false });
  parser.write('<a> ');
  return stateOf(parser);
}

/** Length of an entity reference whose semicolon has not come: the parser would collect it to the end of the file. */
function pendingEntity(parser: SaxesParser): number {
  return (parser as unknown as { entity?: string }).entity?.length ?? 0;
}

function localName(name: string): string {
  const colon = name.indexOf(':');
  return colon < 0 ? name : name.slice(colon + 1);
}

/** The parser's words without its line and column, which mean nothing after the arrays were cut out. */
function plainReason(message: string): string {
  return message
    .replace(/^\d+:\d+:\s*/, '')
    .replace(/\.$/, '')
    .slice(0, LONGEST_REASON);
}
