/** CODATA 2018/2022 values; e, k_B and N_A are exact by the 2019 definition of the SI. Units in brackets. */
export const VACUUM_PERMITTIVITY = 8.8541878128e-12; // [F/m]
export const ELEMENTARY_CHARGE = 1.602176634e-19; // [C]
export const BOLTZMANN = 1.380649e-23; // [J/K]
export const GAS_CONSTANT = 8.31446261815324; // [J/(mol K)]
export const FARADAY = 96485.33212; // [C/mol]
export const ZERO_CELSIUS = 273.15; // [K]
