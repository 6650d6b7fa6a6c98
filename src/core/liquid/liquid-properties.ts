/** Every property the spray needs of a liquid. */
import type { Estimate } from '../estimate.ts';

export interface LiquidProperties {
  density_kg_m3: Estimate;
  viscosity_mPa_s: Estimate;
  surface_tension_mN_m: Estimate;
  permittivity_relative: Estimate;
  vapour_pressure_kPa: Estimate;
  conductivity_S_m: Estimate;
  /** ½ Σ c z² of all ions. */
  ionic_strength_mol_m3: Estimate;
  /** On the scale of the liquid itself; absent without additive. */
  pH?: Estimate;
}
