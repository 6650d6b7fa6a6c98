export { type BesideCurrent, type BesideTally, besideTally } from './beside-current.ts';
export type { Box, BoxOptions, BoxSearch } from './boxes.ts';
export { boxes } from './boxes.ts';
export type { Spectrogram } from './current-bands.ts';
export {
  type Bandwidth,
  type BandwidthFrom,
  bandwidthOfNoise,
  bandwidthOfResistor,
  type Decidability,
  decidability,
  frequencyText,
  givenBandwidth,
  onePole,
  rateText,
  UNKNOWN_BANDWIDTH,
} from './current-bandwidth.ts';
export type { AmplitudeDistribution } from './current-distribution.ts';
export type { Extremes } from './current-extremes.ts';
export { naturalFrequency, pulsationRange, rayleighShareAt, USUAL_PULSATION } from './current-pulsation.ts';
export type { Pyramid, PyramidView } from './current-pyramid.ts';
export { pyramidBuilder } from './current-pyramid.ts';
export type { SlowCopy } from './current-slow-copy.ts';
export {
  type CurrentStatistics,
  type CurrentStream,
  type CurrentStreamOptions,
  currentStream,
  windowFor,
} from './current-stream.ts';
export type { Bursts, Comb, CurrentWindow, Levels, Mains, Pulses } from './current-window.ts';
export type { Dip } from './dips.ts';
export { dips, NEIGHBOURHOOD_S } from './dips.ts';
export type { JointSeries } from './edge-jumps.ts';
export type { JointFall, LoneJump } from './edge-match.ts';
export type { EdgePair, EdgePairSearch } from './edge-pairs.ts';
export { edgePairs } from './edge-pairs.ts';
export type { EndLoss } from './end-loss.ts';
export { endFade, endLoss } from './end-loss.ts';
export type { Fall, FallOptions, FallSearch } from './falls.ts';
export { boxFalls } from './falls.ts';
export type { FlickerStretch } from './flicker.ts';
export { flickerStretches } from './flicker.ts';
export type { JointOptions } from './joint-edges.ts';
export { jointFalls } from './joint-edges.ts';
export type { PairOptions } from './joint-pairs.ts';
export { jointPairs, leastPair } from './joint-pairs.ts';
export type { Periodogram } from './lomb-scargle.ts';
export { logChance, lombScargle } from './lomb-scargle.ts';
export { longestSpacing, pauseFrom, usualSpacing } from './pause.ts';
export type { Ripple } from './ripples.ts';
export { ripples } from './ripples.ts';
export type { IndexWindows } from './running-quantile.ts';
export { centredWindows, runningMedian, runningQuantile, slowMedian } from './running-quantile.ts';
export type { ScanScatter } from './scan-scatter.ts';
export { scanScatter } from './scan-scatter.ts';
export { madSigmaInPlace, medianInPlace, select } from './select.ts';
export type { LevelStep } from './steps.ts';
export { levelSteps } from './steps.ts';
