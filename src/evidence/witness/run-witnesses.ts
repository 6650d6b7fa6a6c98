/**
 * Follows the peaks of the MS1 scans while a run is read: for each scan the gain since the scan before of the same kind,
 * and the ions that are always there. One stream for each polarity, analyser and scan window, so that neighbours are
 * comparable; where more windows than settings are declared they are observed ranges and do not part the scans.
 * Linear in the points read; memory 36 bytes a scan and a few hundred for its background ions.
 */
import { IonTracks, type TrackBlock } from './ion-tracks.ts';
import { pairGain, StrongPeaks } from './pair-gain.ts';
import { PeakList } from './peak-list.ts';
import type { SeenSpectrum } from './seen-spectrum.ts';

/** As in the grouping of scans: more windows than this are no settings. */
const MOST_WINDOWS = 12;
/** Streams followed; further kinds of scan are not. */
const MOST_STREAMS = 40;
/** Peaks pair within this distance until the run's own is known [ppm], then within so many of its middle distances. */
const FIRST_TOLERANCE_PPM = 20;
const TOLERANCE_DISTANCES = 6;
const TOLERANCE_PPM = { least: 6, most: 400 };
/** Pairs of scans from which the distance is learnt. */
const LEARN_PAIRS = 12;
/** A first tolerance that pairs fewer peaks than this share is too narrow (a scan of low resolution). */
const PAIRED_SHARE = 0.15;

export interface WitnessStream {
  rows: Int32Array;
  /** ln gain since the scan before; NaN for none. */
  gain: Float32Array;
  gain_error: Float32Array;
  gain_low: Float32Array;
  gain_high: Float32Array;
  matched: Uint16Array;
  tolerance_ppm: number;
  blocks: readonly TrackBlock[];
}

export interface Witnesses {
  streams: WitnessStream[];
}

export interface RunWitnesses {
  see(spectrum: SeenSpectrum): void;
  finish(): Witnesses;
}

export function runWitnesses(): RunWitnesses {
  const list = new PeakList();
  const streams = new Map<string, Stream>();
  const windows = new Map<string, number>();

  function streamOf(spectrum: SeenSpectrum): Stream | undefined {
    const coarse = `${Math.sign(spectrum.polarity)}|${spectrum.analyser}`;
    const met = windows.get(coarse) ?? 0;
    const fine =
      met > MOST_WINDOWS
        ? coarse
        : `${coarse}|${Math.round(spectrum.window_low * 100)}|${Math.round(spectrum.window_high * 100)}`;
    const known = streams.get(fine);
    if (known || streams.size >= MOST_STREAMS) return known;
    windows.set(coarse, met + 1);
    const made = new Stream();
    streams.set(fine, made);
    return made;
  }

  return {
    see(spectrum) {
      if (!Number.isFinite(spectrum.time_s)) return;
      const stream = streamOf(spectrum);
      if (!stream) return;
      list.take(spectrum.mz, spectrum.intensity, spectrum.profile);
      stream.take(spectrum.row, list);
    },
    finish() {
      return { streams: [...streams.values()].map((stream) => stream.finish()) };
    },
  };
}

class Stream {
  #rows = new Int32Array(256);
  #gain = new Float32Array(256);
  #error = new Float32Array(256);
  #low = new Float32Array(256);
  #high = new Float32Array(256);
  #matched = new Uint16Array(256);
  #count = 0;
  #before = new StrongPeaks();
  #now = new StrongPeaks();
  readonly #tracks = new IonTracks();
  #tolerance_ppm = FIRST_TOLERANCE_PPM;
  readonly #learnt: number[] = [];

  take(row: number, list: PeakList): void {
    if (this.#count === this.#rows.length) this.#grow();
    this.#now.keep(list);
    const learning = this.#learnt.length < LEARN_PAIRS;
    const pair = pairGain(this.#before, this.#now, this.#tolerance_ppm, learning);
    const i = this.#count++;
    this.#rows[i] = row;
    this.#gain[i] = pair.gain;
    this.#error[i] = pair.error;
    this.#low[i] = pair.low;
    this.#high[i] = pair.high;
    this.#matched[i] = pair.matched;
    if (i > 0 && learning) this.#learn(pair.distance_ppm, pair.matched);
    this.#tracks.take(list, this.#tolerance_ppm);
    [this.#before, this.#now] = [this.#now, this.#before];
  }

  #learn(distance_ppm: number, matched: number): void {
    const most = Math.min(this.#before.count, this.#now.count);
    if (matched < PAIRED_SHARE * most) {
      this.#tolerance_ppm = Math.min(TOLERANCE_PPM.most, 2 * this.#tolerance_ppm);
      return;
    }
    if (Number.isFinite(distance_ppm)) this.#learnt.push(distance_ppm);
    if (this.#learnt.length < LEARN_PAIRS) return;
    const middle = this.#learnt.sort((a, b) => a - b)[LEARN_PAIRS >> 1]!;
    this.#tolerance_ppm = Math.min(
      TOLERANCE_PPM.most,
      Math.max(TOLERANCE_PPM.least, TOLERANCE_DISTANCES * middle),
    );
  }

  finish(): WitnessStream {
    const n = this.#count;
    return {
      rows: this.#rows.slice(0, n),
      gain: this.#gain.slice(0, n),
      gain_error: this.#error.slice(0, n),
      gain_low: this.#low.slice(0, n),
      gain_high: this.#high.slice(0, n),
      matched: this.#matched.slice(0, n),
      tolerance_ppm: this.#tolerance_ppm,
      blocks: this.#tracks.finish(),
    };
  }

  #grow(): void {
    const size = 2 * this.#rows.length;
    const copy = <T extends { set(from: T): void }>(to: T, from: T): T => {
      to.set(from);
      return to;
    };
    this.#rows = copy(new Int32Array(size), this.#rows);
    this.#gain = copy(new Float32Array(size), this.#gain);
    this.#error = copy(new Float32Array(size), this.#error);
    this.#low = copy(new Float32Array(size), this.#low);
    this.#high = copy(new Float32Array(size), this.#high);
    this.#matched = copy(new Uint16Array(size), this.#matched);
  }
}
