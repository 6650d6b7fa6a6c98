/** Citations used by the plan, each with how it was consulted. */
export const SOURCES = {
  taylor1964: 'Taylor 1964, Proc. R. Soc. A 280, 383 (from memory; half-angle 49.29° recomputed from P½ = 0)',
  smith1986: 'Smith 1986, IEEE Trans. Ind. Appl. IA-22, 527 (from memory)',
  shapeFactor:
    'shape factor by taper from boundary-element onsets, slender emitters, feed pressure 0 (computed)',
  meniscus:
    'axisymmetric boundary elements and the pinned equilibrium to its turning point, checked against exact cases and independent solvers (computed)',
  windowPriors: 'contact place, feed pressure, inlet and geometry: priors by judgement',
  corona:
    'Townsend ionisation integral on the axis of a Taylor cone (computed estimate); inception 9.2 after Mikropoulos & Zagkanas 2009 (read)',
  spark:
    'uniform gap 24.22 d + 6.08 √d kV, d in cm (from memory); a tip sparks at 0.35 to 0.7 of it (judgement)',
  electrolysis: 'Van Berkel & Zhou 1995, Anal. Chem. 67, 2916 (from memory)',
  windowRatios: 'ratios to onset: judgement; no authoritative table found',
  fdlm1994:
    'Fernandez de la Mora & Loscertales 1994, J. Fluid Mech. 260, 155 (law read (abstract), coefficient from memory)',
  ganan2004: 'Gañán-Calvo 2004, J. Fluid Mech. 507, 203 (from memory)',
  hartman1999: 'Hartman et al. 1999, J. Aerosol Sci. 30, 823 (from memory)',
  hartman2000: 'Hartman et al. 2000, J. Aerosol Sci. 31, 65 (from memory)',
  ganan1999: 'Gañán-Calvo 1999, J. Aerosol Sci. 30, 863 (from memory)',
  rayleigh1882: 'Rayleigh 1882, Phil. Mag. 14, 184 (from memory; exact electrostatics)',
  minimumFlow:
    'Scheideler & Chen 2014, Appl. Phys. Lett. 104, 024103 (read (abstract)); Fernandez de la Mora & Loscertales 1994, J. Fluid Mech. 260, 155 (lower end of the tested range)',
  poiseuille: 'Hagen–Poiseuille law (textbook)',
  ohm: 'Enke & Jackson 1999, Anal. Chem. 71, 3777 (read (abstract)): spray as a constant-current element in series with the solution',
} as const;
