/**
 * Arithmetic of a resistor that reads the current: a shunt in the ground return, or in series with the supply. The meter's own resistance lies
 * beside it, R' = R Rm/(R + Rm); the voltage across it is lost to the spray, V = I R'; with the capacitance beside it the reading ends
 * at f = 1/(2π R' C); its own (thermal) noise is sqrt(4 k T B/R').
 * Worked number: 200 nA through 4.7 MΩ: 0.94 V; with 100 pF 339 Hz, noise there 1.1 pA (25 °C).
 */
import { BOLTZMANN } from '../../core/constants.ts';
import { inputError } from '../../core/errors.ts';
import { frequencyText, onePole } from '../../core/signal/index.ts';
import { currentText } from './labels.ts';

export interface ResistorReading {
  /** Resistor and meter side by side. */
  effective_MOhm: number;
  /** A reading taken without the meter's own resistance in mind is too small by this factor. */
  shortfall: number;
  bandwidth_Hz: number | null;
  lost_V: number | null;
  noise_nA: number | null;
  sentences: string[];
}

const ROOM_K = 298;

export function resistorReading(given: {
  resistor_MOhm: number;
  meter_MOhm?: number | undefined;
  capacitance_pF?: number | undefined;
  current_nA?: number | undefined;
}): ResistorReading {
  const { resistor_MOhm, meter_MOhm, capacitance_pF, current_nA } = given;
  if (!(resistor_MOhm > 0))
    throw inputError('out of range', 'resistor_MOhm', String(resistor_MOhm), 'above 0');
  const effective_MOhm =
    meter_MOhm === undefined ? resistor_MOhm : (resistor_MOhm * meter_MOhm) / (resistor_MOhm + meter_MOhm);
  const ohm = effective_MOhm * 1e6;
  const bandwidth_Hz = capacitance_pF === undefined ? null : onePole(ohm, capacitance_pF * 1e-12);
  const lost_V = current_nA === undefined ? null : current_nA * 1e-9 * ohm;
  const noise_nA =
    bandwidth_Hz === null ? null : Math.sqrt((4 * BOLTZMANN * ROOM_K * bandwidth_Hz) / ohm) * 1e9;
  const sentences: string[] = [];
  const shortfall = effective_MOhm / resistor_MOhm;
  if (meter_MOhm !== undefined)
    sentences.push(
      `With the meter's ${meter_MOhm} MΩ beside it the resistor works as ${Number(effective_MOhm.toPrecision(4))} MΩ: without this the current reads ${Math.round(100 * (1 - shortfall))} % low.`,
    );
  if (bandwidth_Hz !== null)
    sentences.push(
      `With ${capacitance_pF} pF it ends at ${frequencyText(bandwidth_Hz)}; its own noise there is ${currentText(noise_nA!)}.`,
    );
  if (lost_V !== null)
    sentences.push(
      `${currentText(current_nA!)} leave ${Number(lost_V.toPrecision(3))} V across it: the spray has that much less.`,
    );
  return { effective_MOhm, shortfall, bandwidth_Hz, lost_V, noise_nA, sentences };
}

/** Voltage left at the emitter behind a resistor in series with the supply [V]. */
export function behindResistor(supply_V: number, current_nA: number, resistor_MOhm: number): number {
  return supply_V - current_nA * resistor_MOhm * 1e-3;
}
