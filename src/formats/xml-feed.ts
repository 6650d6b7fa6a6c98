/**
 * Bytes of an XML document in, elements and array texts out. A byte scanner cuts the text of <binary> and <peaks> out of
 * the stream, because it is half of a run file and needs no character decoding; all else goes through a strict parser,
 * which refuses what is not well formed. Document type declarations are refused: a run file needs none, and they are the
 * door of entity expansion.
 */
import { inputError } from '../core/errors.ts';
import { HeldBytes } from './held-bytes.ts';
import { INCOMPLETE, SpectrumLexer } from './spectrum-lexer.ts';
import { StrictParser } from './strict-parser.ts';
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
  isOffset,
  isSpectrum,
  LESS,
  LETTER_D,
  PI_CLOSE,
  QUESTION,
  visible,
} from './xml-bytes.ts';
import { Break, type XmlSink } from './xml-sink.ts';

/** Longest stretch of markup between two '<': a longer one is no run file, and would fill the memory. */
const LONGEST_MARKUP = 4 * 2 ** 20;
/** Longest spectrum that is waited for; of a longer one only the arrays are read the fast way. */
const LONGEST_HELD = 16 * 2 ** 20;
/** By so much must a spectrum that is not whole have grown before it is looked at again. */
const HELD_GROWTH = 1.25;
/** Longest text of one array, as base64 and with blanks; no reader collects more. */
const LONGEST_ARRAY = 256 * 2 ** 20;
/** Encodings in which the bytes of ASCII text are that text. */
const PLAIN_LABELS = /^(utf-?8|us-ascii|ascii|iso-8859-\d+|windows-125\d|latin1)$/i;

export class XmlFeed {
  broken: { byte: number; reason: string } | undefined;

  readonly #sink: XmlSink;
  readonly #strict: StrictParser;
  /** Bytes left from the last piece because a decision needs more of them, and how many it needs at least. */
  readonly #held = new HeldBytes();
  #needed = 0;
  /** Position in the document of the first byte of the piece at hand. */
  #base = 0;
  #state: 'markup' | 'array' | 'comment' | 'cdata' | 'instruction' = 'markup';
  #lexer: SpectrumLexer | undefined;
  #insideArray = false;
  #wanted = false;
  #sinceMarkup = 0;
  #arrayLength = 0;
  /** Place up to which the fast scanner has read. */
  #lexedAt = 0;
  /**
   * `skipped` bytes, a byte order mark, were left out before the first piece. `strict` sends every element through the
   * strict parser; the tests hold both ways against each other.
   */
  constructor(sink: XmlSink, label: string, skipped: number, strict = false) {
    if (!strict && PLAIN_LABELS.test(label)) this.#lexer = new SpectrumLexer();
    this.#sink = sink;
    this.#base = skipped;
    this.#strict = new StrictParser(sink, label, (text) => {
      if (this.#insideArray && this.#wanted) sink.arrayText(ascii(text));
    });
  }

  /** Bytes other than white space after the root element. */
  get trailing(): number {
    return this.#strict.trailing;
  }

  /** `room` bytes before the piece in its buffer may be written. */
  push(piece: Uint8Array, room = 0): void {
    if (this.broken) return;
    const bytes = this.#held.join(piece, room);
    if (bytes.length < this.#needed) this.#held.keep(bytes, 0);
    else this.#take(bytes);
  }

  #take(bytes: Uint8Array): void {
    this.#needed = 0;
    let used = 0;
    try {
      if (!this.#strict.finished) used = this.#scan(bytes);
    } catch (error) {
      if (!(error instanceof Break)) throw error;
      this.#stop(Math.max(this.#strict.byteRead(), this.#lexedAt), error.message);
      return;
    }
    if (this.#strict.finished) {
      this.#strict.trailing += visible(bytes.subarray(used));
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
    else if (!this.#strict.finished) {
      const where =
        this.#strict.element === '' ? 'before its first element' : `inside <${this.#strict.element}>`;
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
    while (at < n && !this.#strict.finished) {
      if (this.#state === 'array') {
        const next = bytes.indexOf(LESS, at);
        const end = next < 0 ? n : next;
        this.#arrayLength += end - at;
        if (this.#arrayLength > LONGEST_ARRAY) throw new Break('an array longer than 256 MiB of text');
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
          this.#strict.give(this.#base, bytes, given, keep);
          return keep;
        }
        at = end + close.length;
        this.#state = 'markup';
        this.#sinceMarkup = 0;
        if (this.#insideArray) {
          this.#strict.give(this.#base, bytes, given, at);
          given = at;
          this.#state = 'array';
        }
        continue;
      }
      const open = bytes.indexOf(LESS, at);
      if (open < 0) {
        this.#hold(n - at);
        this.#strict.give(this.#base, bytes, given, n);
        return n;
      }
      this.#sinceMarkup = 0;
      const first = bytes[open + 1];
      if (first === undefined) {
        this.#strict.give(this.#base, bytes, given, open);
        return open;
      }
      if (first === BANG || first === QUESTION) {
        const kind = first === QUESTION ? 'instruction' : declarationAt(bytes, open);
        if (kind === undefined) {
          this.#strict.give(this.#base, bytes, given, open);
          return open;
        }
        if (kind === 'other' && (bytes[open + 2]! | 0x20) === LETTER_D) {
          this.#strict.give(this.#base, bytes, given, open);
          if (this.#strict.element === '') refuseDoctype();
          throw new Break('a document type declaration inside the document');
        }
        at = open + 2;
        if (kind === 'comment') at = open + COMMENT_OPEN.length;
        else if (kind === 'cdata') at = open + CDATA_OPEN.length;
        if (kind !== 'other') this.#state = kind;
        continue;
      }
      this.#insideArray = false;
      if (this.#lexer !== undefined && isSpectrum(bytes, open)) {
        this.#strict.give(this.#base, bytes, given, open);
        given = open;
        if (this.#strict.element === 'spectrumList' && this.#strict.isInText()) {
          this.#lexedAt = this.#base + open;
          let end = this.#lexer.read(bytes, open, this.#sink);
          if (end >= 0) {
            // Blanks between spectra mean nothing to the parser either.
            while (isBlank(bytes[end])) end += 1;
            at = end;
            given = end;
            this.#lexedAt = this.#base + end;
            continue;
          }
          if (end === INCOMPLETE && n - open < LONGEST_HELD) {
            this.#needed = Math.ceil((n - open) * HELD_GROWTH);
            return open;
          }
        }
      }
      if (this.#lexer !== undefined && isOffset(bytes, open)) {
        this.#strict.give(this.#base, bytes, given, open);
        given = open;
        at = open;
        if (this.#strict.finished) break;
        const inIndex = this.#strict.element === 'index' && this.#strict.isInText();
        const end = inIndex ? afterOffsets(bytes, open) : open;
        if (end > open) {
          at = end;
          given = end;
          continue;
        }
      }
      const tag = arrayTag(bytes, open);
      if (tag === 'more') {
        this.#hold(n - open);
        this.#strict.give(this.#base, bytes, given, open);
        return open;
      }
      if (tag === undefined) {
        at = open + 1;
        continue;
      }
      at = tag.end;
      if (tag.empty) continue;
      this.#strict.give(this.#base, bytes, given, at);
      given = at;
      this.#insideArray = true;
      this.#arrayLength = 0;
      this.#wanted = this.#sink.wantsArray();
      this.#state = 'array';
    }
    this.#strict.give(this.#base, bytes, given, at);
    return at;
  }

  #hold(bytes: number): void {
    this.#sinceMarkup += bytes;
    if (this.#sinceMarkup > LONGEST_MARKUP) throw new Break('a stretch of markup longer than 4 MiB');
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
