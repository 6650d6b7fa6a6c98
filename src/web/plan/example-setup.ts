/** The set-up a visitor meets first: an invented example, no one's bench. */
export const exampleSetup: Record<string, unknown> = {
  name: 'an invented example',
  emitter: {
    bore_um: 10,
    rim_um: 24,
    taper_half_angle_deg: 8,
    shank_diameter_um: 360,
    free_length_mm: 12,
    material: 'fused silica',
    wets: 'rim',
  },
  liquid: { acetonitrile_percent: 20, additive: 'formic acid', additive_percent: 0.1, temperature_C: 25 },
  feed: { kind: 'pumped', flow_nL_min: 300 },
  polarity: 'positive',
  inlet: { distance_mm: 3, lateral_offset_mm: 0.6, angle_deg: 0, bore_mm: 0.5, potential_V: 0 },
  voltage: { contact: 'liquid junction', column: [{ bore_um: 75, length_mm: 150, open_fraction: 0.6 }] },
};
