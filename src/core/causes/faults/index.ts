/** Written by tools/catalogue.mjs: one line for each file of this folder. */
import type { Fault } from '../types.ts';
import { fault as acquisitionGap } from './acquisition-gap.ts';
import { fault as ageing } from './ageing.ts';
import { fault as airBubble } from './air-bubble.ts';
import { fault as aqueousStart } from './aqueous-start.ts';
import { fault as arcing } from './arcing.ts';
import { fault as climate } from './climate.ts';
import { fault as coatingGone } from './coating-gone.ts';
import { fault as coatingSwells } from './coating-swells.ts';
import { fault as columnAgeingVoid } from './column-ageing-void.ts';
import { fault as columnBleed } from './column-bleed.ts';
import { fault as conductivityHigh } from './conductivity-high.ts';
import { fault as coronaNegative } from './corona-negative.ts';
import { fault as coronaPositive } from './corona-positive.ts';
import { fault as currentLimit } from './current-limit.ts';
import { fault as detector } from './detector.ts';
import { fault as distanceWrong } from './distance-wrong.ts';
import { fault as draught } from './draught.ts';
import { fault as driedTip } from './dried-tip.ts';
import { fault as dropInColumnVoltage } from './drop-in-column-voltage.ts';
import { fault as electrolysisGas } from './electrolysis-gas.ts';
import { fault as fibre } from './fibre.ts';
import { fault as fillControl } from './fill-control.ts';
import { fault as floatingGround } from './floating-ground.ts';
import { fault as fullClog } from './full-clog.ts';
import { fault as hangingDrop } from './hanging-drop.ts';
import { fault as hiddenPulsation } from './hidden-pulsation.ts';
import { fault as highVoltageOff } from './high-voltage-off.ts';
import { fault as inletBlocked } from './inlet-blocked.ts';
import { fault as inletDirty } from './inlet-dirty.ts';
import { fault as leakAfterColumn } from './leak-after-column.ts';
import { fault as leakBeforeColumn } from './leak-before-column.ts';
import { fault as leakage } from './leakage.ts';
import { fault as looseContact } from './loose-contact.ts';
import { fault as looseParticle } from './loose-particle.ts';
import { fault as mobilePhaseWrong } from './mobile-phase-wrong.ts';
import { fault as offsetDrift } from './offset-drift.ts';
import { fault as organicEnd } from './organic-end.ts';
import { fault as outgassing } from './outgassing.ts';
import { fault as packingBleeds } from './packing-bleeds.ts';
import { fault as partialClog } from './partial-clog.ts';
import { fault as polaritySwitching } from './polarity-switching.ts';
import { fault as pumpNotDelivering } from './pump-not-delivering.ts';
import { fault as pumpPulsation } from './pump-pulsation.ts';
import { fault as samplePlug } from './sample-plug.ts';
import { fault as staticDry } from './static-dry.ts';
import { fault as staticNoStart } from './static-no-start.ts';
import { fault as suppressionOrValley } from './suppression-or-valley.ts';
import { fault as surfactant } from './surfactant.ts';
import { fault as switchingTransient } from './switching-transient.ts';
import { fault as tiltedFace } from './tilted-face.ts';
import { fault as tipBroken } from './tip-broken.ts';
import { fault as tipWetted } from './tip-wetted.ts';
import { fault as trappedAir } from './trapped-air.ts';
import { fault as unionDeadVolume } from './union-dead-volume.ts';
import { fault as voltageHigh } from './voltage-high.ts';
import { fault as voltageLow } from './voltage-low.ts';
import { fault as wetDroplets } from './wet-droplets.ts';

export const FAULTS: readonly Fault[] = [
  acquisitionGap,
  ageing,
  airBubble,
  aqueousStart,
  arcing,
  climate,
  coatingGone,
  coatingSwells,
  columnAgeingVoid,
  columnBleed,
  conductivityHigh,
  coronaNegative,
  coronaPositive,
  currentLimit,
  detector,
  distanceWrong,
  draught,
  driedTip,
  dropInColumnVoltage,
  electrolysisGas,
  fibre,
  fillControl,
  floatingGround,
  fullClog,
  hangingDrop,
  hiddenPulsation,
  highVoltageOff,
  inletBlocked,
  inletDirty,
  leakAfterColumn,
  leakBeforeColumn,
  leakage,
  looseContact,
  looseParticle,
  mobilePhaseWrong,
  offsetDrift,
  organicEnd,
  outgassing,
  packingBleeds,
  partialClog,
  polaritySwitching,
  pumpNotDelivering,
  pumpPulsation,
  samplePlug,
  staticDry,
  staticNoStart,
  suppressionOrValley,
  surfactant,
  switchingTransient,
  tiltedFace,
  tipBroken,
  tipWetted,
  trappedAir,
  unionDeadVolume,
  voltageHigh,
  voltageLow,
  wetDroplets,
];
