/** What the rehearsed bench assumes, and where a real one differs; page, command and documents show the same sentences. */
export const ASSUMPTIONS: readonly string[] = [
  'The onset is the turning point of the solved meniscus facing a plane; contact line, rim, coupling and pressure are drawn about the set-up, and the onset follows them (computed).',
  'The edges above the onset (steady, tilted, several jets) and the way back are ratios drawn from the plan’s own priors (judgement). A plan calibrated on rehearsed readings proves nothing about a real emitter.',
  'A steady jet carries a drawn factor 2.0 to 2.6 times √(γKQ); n jets carry √n of that; the conductivity is drawn about the model.',
  'Pulsation: the charged-drop frequency of the contact line’s radius, choked below the minimum flow. The charge of a pulse grows from a share of the meniscus’s Rayleigh charge at the onset to what a short-lived jet carries at the steady edge (judgement). Bursts are the same pulses in trains at the rate the liquid refills.',
  'Dripping, unsteady switching, corona pulses, arcs and gas are rules with random sizes (judgement), not solved motion.',
  'The meter is one pole, white noise and the steps of a converter. Pulses are a tenth of their period long.',
  'The run signal is a ridge in V/V_on, offset and distance (judgement; after a simulated source), averaged over each scan, with scatter by regime. Best offset: on the axis at low flow, on a ring at higher flow.',
  'Faults of the catalogue come one at a time, each as a few simple effects of a drawn size (judgement); two of the same signs are not told apart.',
  'Flow, wetting and drying settle in seconds to a minute here.',
  'The picture: solved up to the onset; cones, jets, drops, leaning and every motion are composed.',
];

export const DIFFERS: readonly string[] = [
  'A real feed, a wet shank or a clog takes minutes to hours to show; several faults may hold at once.',
  'Real currents drift, pick up more and pass amplifiers that ring; a real meter may sit at high voltage.',
  'A real inlet is no plane: gas, heat and its shape move the best position.',
  'A real voltage can hurt. Here nothing touches a supply; at the bench local rules and trained staff decide, and no voltage is raised without a person’s yes.',
];
