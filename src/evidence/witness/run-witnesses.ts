/**
 * Follows the peaks of the MS1 scans while a run is read: for each scan the gain since the scan before of the same kind,
 * and the ions that are always there. One stream for each polarity, analyser and scan window, so that neighbours are
 * comparable; where more windows than settings are declared they are observed ranges and do not part the scans.
 * Linear in the points read; memory about 100 bytes a scan.
 */
import { BackgroundReader, type BackgroundSeries } from './background.ts';
import { commonJump, HALF } from './common-jump.ts';
import { IonSteps, type IonsOverTime } from './ion-passages.ts';
import { BLOCK_SCANS, IonTracks, type TrackBlock } from './ion-tracks.ts';
import { pairGain, StrongPeaks } from './pair-gain.ts';
import { PeakList } from './peak-list.ts';
import type { SeenSpectrum } from './seen-spectrum.ts';

/** As in the grouping of scans: more windows than this are no settings. */
const MOST_WINDOWS = 12;
/** So many scans of a kind tell whether its windows are settings. */
const SETTLED_SCANS = 64;
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

/** Room that nothing was written to takes no memory, columns left behind do until they are given back. */
const GROWTH = 4;

export interface WitnessStream {
  rows: Int32Array;
  /** ln gain since the scan before; NaN for none. */
  gain: Float32Array;
  gain_error: Float32Array;
  gain_low: Float32Array;
  gain_high: Float32Array;
  matched: Uint16Array;
  /** ln jump of all ions into the scan beyond their own slopes; NaN for none. */
  jump: Float32Array;
  jump_error: Float32Array;
  tolerance_ppm: number;
  background: BackgroundSeries;
  /** The strongest ions in steps of ten seconds: what another run is held against. */
  ions: IonsOverTime;
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
  const kinds = new Map<string, Kind>();
  let room = MOST_STREAMS;

  function open(): Stream | undefined {
    if (room === 0) return undefined;
    room--;
    return new Stream();
  }

  function kindOf(spectrum: SeenSpectrum): Kind {
    const key = `${Math.sign(spectrum.polarity)}|${spectrum.analyser}`;
    const known = kinds.get(key);
    if (known) return known;
    const made: Kind = { scans: 0, windows: new Map(), together: open() };
    kinds.set(key, made);
    return made;
  }

  /** The stream of the scan's window; undefined where there is no room, or where windows are no settings. */
  function windowOf(kind: Kind, spectrum: SeenSpectrum): Stream | undefined {
    const key = `${Math.round(spectrum.window_low * 100)}|${Math.round(spectrum.window_high * 100)}`;
    const known = kind.windows.get(key);
    if (known) return known;
    if (kind.windows.size < MOST_WINDOWS) {
      const made = open();
      if (made) kind.windows.set(key, made);
      return made;
    }
    // More windows than settings have.
    if (kind.scans < SETTLED_SCANS) {
      room += kind.windows.size;
      kind.windows.clear();
      kind.observed = true;
    } else kind.together ??= open();
    return undefined;
  }

  return {
    see(spectrum) {
      if (!Number.isFinite(spectrum.time_s)) return;
      const kind = kindOf(spectrum);
      const own = kind.observed ? undefined : windowOf(kind, spectrum);
      kind.scans++;
      // Until it is settled whether windows are settings the scans are followed both ways.
      const both = own !== undefined && kind.scans <= SETTLED_SCANS;
      const together = own === undefined || both ? kind.together : undefined;
      if (!own && !together) return;
      list.take(spectrum.mz, spectrum.intensity, spectrum.profile);
      own?.take(spectrum.row, spectrum.time_s, list);
      together?.take(spectrum.row, spectrum.time_s, list);
      if (kind.scans === SETTLED_SCANS && !kind.observed) {
        delete kind.together;
        room++;
      }
    },
    finish() {
      const streams = [...kinds.values()].flatMap((kind) => {
        const together =
          kind.together && (kind.observed || kind.scans > SETTLED_SCANS) ? [kind.together] : [];
        return [...kind.windows.values(), ...together];
      });
      return { streams: streams.map((stream) => stream.finish()) };
    },
  };
}

/** Scans of one polarity and analyser: by their windows, and all together as long as, or since, those are no settings. */
interface Kind {
  scans: number;
  windows: Map<string, Stream>;
  together?: Stream | undefined;
  observed?: boolean;
}

class Stream {
  #rows = new Int32Array(256);
  #gain = new Float32Array(256);
  #error = new Float32Array(256);
  #low = new Float32Array(256);
  #high = new Float32Array(256);
  #matched = new Uint16Array(256);
  #jump = new Float32Array(256);
  #jumpError = new Float32Array(256);
  #count = 0;
  /** The last scans, the newest at the end. */
  readonly #frames = Array.from({ length: 2 * HALF }, () => new StrongPeaks());
  readonly #times = new Float64Array(2 * HALF);
  readonly #tracks = new IonTracks();
  readonly #background = new BackgroundReader();
  readonly #steps = new IonSteps();
  /** Scan times of the open block. */
  readonly #blockTimes = new Float64Array(BLOCK_SCANS);
  #tolerance_ppm = FIRST_TOLERANCE_PPM;
  readonly #learnt: number[] = [];

  take(row: number, time_s: number, list: PeakList): void {
    if (this.#count === this.#rows.length) this.#grow();
    const frames = this.#frames;
    const now = frames.shift()!;
    frames.push(now);
    this.#times.copyWithin(0, 1);
    this.#times[2 * HALF - 1] = time_s;
    now.keep(list);
    const learning = this.#learnt.length < LEARN_PAIRS;
    const pair = pairGain(frames[2 * HALF - 2]!, now, this.#tolerance_ppm, learning);
    const i = this.#count++;
    this.#jump[i] = Number.NaN;
    this.#jumpError[i] = Number.NaN;
    if (i >= 2 * HALF - 1) {
      const { value, error } = commonJump(frames, this.#times);
      this.#jump[i - HALF + 1] = value;
      this.#jumpError[i - HALF + 1] = error;
    }
    this.#rows[i] = row;
    this.#gain[i] = pair.gain;
    this.#error[i] = pair.error;
    this.#low[i] = pair.low;
    this.#high[i] = pair.high;
    this.#matched[i] = pair.matched;
    if (i > 0 && learning) this.#learn(pair.distance_ppm, pair.matched);
    this.#blockTimes[i % BLOCK_SCANS] = time_s;
    this.#steps.take(time_s, list, this.#tolerance_ppm);
    this.#follow(this.#tracks.take(list, this.#tolerance_ppm));
  }

  #follow(block: TrackBlock | undefined): void {
    if (block) this.#background.take(block, this.#blockTimes[block.scans >> 1]!);
  }

  #learn(distance_ppm: number, matched: number): void {
    const most = Math.min(this.#frames[2 * HALF - 2]!.count, this.#frames[2 * HALF - 1]!.count);
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
    this.#follow(this.#tracks.finish());
    return {
      rows: this.#rows.subarray(0, n),
      gain: this.#gain.subarray(0, n),
      gain_error: this.#error.subarray(0, n),
      gain_low: this.#low.subarray(0, n),
      gain_high: this.#high.subarray(0, n),
      matched: this.#matched.subarray(0, n),
      jump: this.#jump.subarray(0, n),
      jump_error: this.#jumpError.subarray(0, n),
      tolerance_ppm: this.#tolerance_ppm,
      background: this.#background.finish(n),
      ions: this.#steps.finish(this.#tolerance_ppm),
    };
  }

  #grow(): void {
    const size = GROWTH * this.#rows.length;
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
    this.#jump = copy(new Float32Array(size), this.#jump);
    this.#jumpError = copy(new Float32Array(size), this.#jumpError);
  }
}
