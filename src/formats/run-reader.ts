/**
 * Reads a run file piece by piece into a `RunRecord`, with memory that does not grow with the file but for 80 bytes a
 * row. What is no run file at all is refused with `InputError`; a run file that breaks off or is damaged gives the rows
 * before the break and says where it broke.
 */
import { inputError } from '../core/errors.ts';
import type { ArrayOptions } from './ms1-spectrum.ts';
import { MzmlSink } from './mzml.ts';
import { MzxmlSink } from './mzxml.ts';
import { RunBuilder } from './run-builder.ts';
import type { RunRecord } from './run-record.ts';
import { SNIFF_BYTES, sniffText, utf16Stream } from './text-encoding.ts';
import { XmlFeed } from './xml-feed.ts';
import type { Attributes, XmlSink } from './xml-sink.ts';

export interface RunReader {
  /**
   * Throws `InputError` as soon as the bytes prove to be no run file. `room` bytes before the chunk in its own buffer may be
   * written, which saves moving the chunk; default 0.
   */
  push(chunk: Uint8Array, room?: number): void;
  /** True once more bytes can change nothing: the document broke off. */
  readonly stopped: boolean;
  /** `failure` says why the bytes end early when their source knows, for example damaged gzip data. */
  end(failure?: string): RunRecord;
}

export interface RunReaderOptions extends ArrayOptions {
  /** Sends every element through the strict parser; default false: plain spectra are read by a faster scanner. */
  strict?: boolean;
}

const EXPECTED = 'mzML or mzXML';
/** Longest root name repeated in a message. */
const NAME_SHOWN = 40;

export function runReader(options: RunReaderOptions): RunReader {
  const root = new RootSink(options);
  let start: Uint8Array | undefined = new Uint8Array(0);
  let feed: XmlFeed | undefined;
  let recode: ((piece: Uint8Array) => Uint8Array) | undefined;
  let bytesPerUnit = 1;

  function begin(bytes: Uint8Array): XmlFeed {
    const text = sniffText(bytes);
    if ('utf16' in text) {
      recode = utf16Stream(text.utf16);
      bytesPerUnit = 2;
    }
    const mark = 'mark' in text ? text.mark : 0;
    feed = new XmlFeed(root, 'label' in text ? text.label : 'utf-8', mark, options.strict);
    start = undefined;
    feed.push(recode ? recode(bytes.subarray(mark)) : bytes.subarray(mark));
    return feed;
  }

  return {
    get stopped() {
      return feed?.broken !== undefined;
    },
    push(chunk, room) {
      if (feed) {
        if (recode) feed.push(recode(chunk));
        else feed.push(chunk, room);
        return;
      }
      start = concatenated(start ?? new Uint8Array(0), chunk);
      if (start.length >= SNIFF_BYTES) begin(start);
    },
    end(failure) {
      if (failure !== undefined && start?.length === 0)
        throw inputError('invalid', 'run file', failure, EXPECTED);
      const read = feed ?? begin(start ?? new Uint8Array(0));
      read.end(failure);
      if (!root.format) {
        throw inputError(
          'invalid',
          'run file',
          read.broken?.reason ?? 'a document without elements',
          EXPECTED,
        );
      }
      const broken = read.broken && { ...read.broken, byte: read.broken.byte * bytesPerUnit };
      const warnings =
        read.trailing > 0 ? [`${read.trailing} bytes after the end of the document, not read.`] : [];
      return root.run.record(root.format, broken, warnings);
    },
  };
}

/** Waits for the root element to know the format, then hands everything on. */
class RootSink implements XmlSink {
  readonly run = new RunBuilder();
  format: RunRecord['format'] | undefined;
  readonly #options: RunReaderOptions;
  #sink: XmlSink | undefined;

  constructor(options: RunReaderOptions) {
    this.#options = options;
  }

  open(name: string, attributes: Attributes): void {
    this.#sink ??= this.#choose(name);
    this.#sink.open(name, attributes);
  }

  close(name: string): void {
    this.#sink?.close(name);
  }

  wantsArray(): boolean {
    return this.#sink?.wantsArray() ?? false;
  }

  arrayText(piece: Uint8Array): void {
    this.#sink?.arrayText(piece);
  }

  heeds(name: string, attributes: Attributes): boolean {
    return this.#sink?.heeds(name, attributes) ?? true;
  }

  skipsRest(): boolean {
    return this.#sink?.skipsRest() ?? false;
  }

  #choose(name: string): XmlSink {
    if (name === 'mzML' || name === 'indexedmzML') {
      this.format = 'mzML';
      return new MzmlSink(this.run, this.#options);
    }
    if (name === 'mzXML' || name === 'msRun') {
      this.format = 'mzXML';
      return new MzxmlSink(this.run, this.#options);
    }
    const found =
      name.toLowerCase() === 'html' ? 'an HTML page' : `an XML document of <${name.slice(0, NAME_SHOWN)}>`;
    throw inputError('invalid', 'run file', found, EXPECTED);
  }
}

function concatenated(a: Uint8Array, b: Uint8Array): Uint8Array {
  const both = new Uint8Array(a.length + b.length);
  both.set(a);
  both.set(b, a.length);
  return both;
}
