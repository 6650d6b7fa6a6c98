/** The only place where bench units and SI meet. Multiply by these to enter SI, divide to leave it. */
export const NL_MIN = 1e-12 / 60; // [m3/s] per nL/min
export const UM = 1e-6; // [m] per µm
export const MM = 1e-3; // [m] per mm
export const NM = 1e-9; // [m] per nm
export const NA = 1e-9; // [A] per nA
export const BAR = 1e5; // [Pa] per bar
export const MBAR = 1e2; // [Pa] per mbar
export const MN_M = 1e-3; // [N/m] per mN/m
export const MPA_S = 1e-3; // [Pa s] per mPa s
export const DEG = Math.PI / 180; // [rad] per degree
