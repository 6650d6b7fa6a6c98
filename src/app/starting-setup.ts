/** The commented document `steadycone setup new` prints: every name with its unit, ready to plan as it stands. */
export function startingSetup(): string {
  return TEXT;
}

const TEXT = `# A set-up for Steadycone. Change the numbers to yours; lines with a default may be left out.
# Names carry their units. 'steadycone schema setup' lists every name with its range.
name: My set-up

emitter:
  bore_um: 10                  # inner diameter at the tip
  rim_um: 20                   # outer diameter at the tip
  taper_half_angle_deg: 8      # outer taper, 0 for a straight tip (default 8)
  shank_diameter_um: 360       # outer diameter behind the taper (default 360)
  free_length_mm: 10           # what stands free of the holder (default 10)
  material: fused silica
  inside: unknown              # the bore behind the tip: widens (pulled), constant (etched) or unknown
  wets: rim                    # where the liquid's edge sits: bore, rim or shank (default rim)

liquid:                        # percent by volume before mixing, water makes up the rest
  acetonitrile_percent: 20
  methanol_percent: 0
  propanol_2_percent: 0
  additive: formic acid        # none, formic acid, acetic acid, trifluoroacetic acid,
                               # ammonium acetate, ammonium formate, ammonium bicarbonate
  additive_percent: 0.1        # acids; for a salt write additive_mM instead
  temperature_C: 25
  # conductivity_S_m: 0.02     # measured values win over the models
  # surface_tension_mN_m: 55

feed:
  kind: pumped                 # or: static
  flow_nL_min: 300             # pumped
  # back_pressure_mbar: 300    # static

polarity: positive             # or: negative

# room:
#   temperature_C: 22
#   humidity_percent: 40

inlet:
  distance_mm: 3               # tip to inlet along the axis
  lateral_offset_mm: 0         # tip off the inlet's axis
  angle_deg: 0
  bore_mm: 0.5
  potential_V: 0

voltage:
  # supply_V: 1800             # magnitude against ground; left out: the plan says what the supply must give
  contact: tip                 # or: liquid junction, then list the liquid between contact and tip:
  # column:
  #   - bore_um: 50
  #     length_mm: 200
  #     open_fraction: 1       # 1 for an open tube, about 0.4 to 0.8 for a packed bed

# gradient:                    # share of bottle B over the run
#   bottle_A_organic_percent: 0
#   bottle_B_organic_percent: 80
#   organic: acetonitrile
#   table:
#     - { time_min: 0, percent_B: 5 }
#     - { time_min: 60, percent_B: 45 }
`;
