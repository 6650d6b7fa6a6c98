/**
 * Text of an XML document through a strict parser, piece by piece, with the place in bytes where it stands. A closed element is
 * told only once its end tag has proved to be the right one.
 */
import { SaxesParser } from 'saxes';
import { textStream } from './text-encoding.ts';
import { visible } from './xml-bytes.ts';
import { type Attributes, Break, type XmlSink } from './xml-sink.ts';

const WRONG_END_TAG = 'unexpected close tag.';
const LONGEST_REASON = 120;
/** Longest name of an entity or character reference. */
const LONGEST_ENTITY = 64;
/** Deepest nesting; run files stay under 12, mzXML with nested scans under 20. */
const DEEPEST = 200;
const IN_TEXT = textState();

export class StrictParser {
  /** True once the root element was closed: what follows is not read. */
  finished = false;
  /** Bytes other than white space after the root element. */
  trailing = 0;
  readonly #sink: XmlSink;
  readonly #parser = new SaxesParser({ xmlns: false });
  readonly #text: ReturnType<typeof textStream>;
  readonly #stack: string[] = [];
  /** What the parser was given last: the text, the place of its first byte, and the characters before it. */
  #givenText = '';
  #givenByte = 0;
  #givenChars = 0;
  /** Length of an entity reference that made reading stop: the fault lies where it began. */
  #pending = 0;
  /** An end tag met but not yet known to be the right one, and its place in the text given last. */
  #closing: string | undefined;
  #closingEnd = 0;
  /** Characters of the text given last that stand before the end of the root element. */
  #rootEnd = 0;

  constructor(sink: XmlSink, label: string, onCdata: (text: string) => void) {
    this.#sink = sink;
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
    parser.on('cdata', onCdata);
  }

  /** The element in which reading stands, or '' outside the root. */
  get element(): string {
    return this.#stack.at(-1) ?? '';
  }

  /** In plain text between elements, where a whole element may be kept from the parser. */
  isInText(): boolean {
    return stateOf(this.#parser) === IN_TEXT;
  }

  /** Reads bytes[from … to); `base` is the place of bytes[0] in the document. Throws Break where they are not well formed. */
  give(base: number, bytes: Uint8Array, from: number, to: number): void {
    if (to <= from) return;
    if (this.finished) {
      this.trailing += visible(bytes.subarray(from, to));
      return;
    }
    this.#givenByte = base + from;
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

  /** Place in the document up to which was read, or where the fault that stopped reading began. */
  byteRead(): number {
    const given = this.#text.bytesOf(this.#givenText.slice(0, this.#charsRead()));
    return this.#givenByte + given - this.#pending;
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
