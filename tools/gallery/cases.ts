/** What the gallery shows: for each regime and some faults, how the rehearsed bench is brought there, and what to look for. */

export interface GalleryCase {
  id: string;
  title: string;
  /** Share of the way from onset (0) to the steady edge (1), or another place on the voltage axis. */
  voltage: { depth: number } | { ratio: 'drips' | 'working' | 'tilted' | 'second jet' };
  flow_nL_min: number;
  fault: string;
  /** 'wide': 400 kHz and 1 MS/s; 'usual': 20 kHz and 100 kS/s. */
  meter: 'wide' | 'usual';
  seconds: number;
  /** Samples shown one by one, from this second on. */
  zoom: { at_s: number; ms: number };
  /** What the eye should look for; what a slow meter makes of it. */
  look: string;
  slow: string;
}

const jet = { voltage: { ratio: 'working' }, flow_nL_min: 300, fault: 'none', meter: 'wide' } as const;

export const CASES: readonly GalleryCase[] = [
  {
    ...jet,
    id: 'no-spray',
    title: 'No spray',
    flow_nL_min: 0,
    seconds: 0.4,
    zoom: { at_s: 0.2, ms: 1 },
    look: 'A level of nothing: noise about zero, one narrow bell, a flat spectrum but for the mains that every lead picks up.',
    slow: 'The same, with less noise: converter steps may be all that is left.',
  },
  {
    ...jet,
    id: 'leak-only',
    title: 'Leak only: flow off, high voltage on',
    flow_nL_min: 0,
    fault: 'leakage',
    seconds: 0.4,
    zoom: { at_s: 0.2, ms: 1 },
    look: 'A level that stands without any liquid, quiet as the meter itself. Only the flow tells it from a spray: switch it off, and this stays.',
    slow: 'No different: a slow meter cannot tell a leak from a steady spray either.',
  },
  {
    ...jet,
    id: 'dripping',
    title: 'Dripping',
    voltage: { ratio: 'drips' },
    meter: 'usual',
    seconds: 20,
    zoom: { at_s: 0, ms: 4 },
    look: 'Lone spikes on a base of nothing, seconds apart; the distribution is a bell at zero with a thin tail. More flow brings them closer.',
    slow: 'Each drop is still counted, lower and wider: its charge, not its height, is what the meter keeps.',
  },
  {
    ...jet,
    id: 'bursts',
    title: 'Intermittent bursts',
    voltage: { depth: 0.15 },
    seconds: 0.1,
    zoom: { at_s: 0.05, ms: 6 },
    look: 'Trains of pulses with quiet between them: two humps in the distribution, and in the spectrum the slow rhythm of the trains beside the fast one of the pulses.',
    slow: 'The trains become steps up and down; the pulses inside them are gone.',
  },
  {
    ...jet,
    id: 'pulsating',
    title: 'Pulsating',
    voltage: { depth: 0.6 },
    seconds: 0.2,
    zoom: { at_s: 0.1, ms: 0.25 },
    look: 'Sharp pulses, one after the other, that fall back to nothing each time; a lopsided distribution and a line with its harmonics in the spectrum.',
    slow: 'A calm, low current. Nothing in this picture says that it pulsates: this is the trap, and the reason for a fast meter.',
  },
  {
    ...jet,
    id: 'steady',
    title: 'Steady cone-jet',
    seconds: 0.4,
    zoom: { at_s: 0.2, ms: 1 },
    look: 'One level, one narrow bell well above zero, no line in the spectrum; a slow drift of a percent.',
    slow: 'The same level. Alone it proves nothing: compare with the pulsation above through the same slow meter.',
  },
  {
    ...jet,
    id: 'unsteady',
    title: 'Unsteady: pulsation and jet in turn',
    voltage: { depth: 0.93 },
    seconds: 0.5,
    zoom: { at_s: 0.24, ms: 6 },
    look: 'Stretches of pulses and stretches of a quiet level in turn; a sharp bell stands on a broad one.',
    slow: 'A level that hops between two near values, easily taken for noise or for several jets.',
  },
  {
    ...jet,
    id: 'tilted',
    title: 'Tilted jet',
    voltage: { ratio: 'tilted' },
    seconds: 0.4,
    zoom: { at_s: 0.2, ms: 1 },
    look: 'Nothing: a jet that stands still while it leans carries the current of an upright one, a few percent more for its higher voltage. The microscope and the signal tell.',
    slow: 'The same.',
  },
  {
    ...jet,
    id: 'second-jet',
    title: 'A second jet: a step by the root of two',
    voltage: { ratio: 'second jet' },
    seconds: 4,
    meter: 'usual',
    zoom: { at_s: 1.9, ms: 400 },
    look: 'A sharp step up to about 1.4 times the level while the voltage moved little; two narrow bells. Three jets would stand at 1.7.',
    slow: 'The step is as plain as through a fast meter: this one needs only a clean level.',
  },
  {
    ...jet,
    id: 'corona',
    title: 'Corona beside the jet',
    fault: 'corona-positive',
    seconds: 0.4,
    zoom: { at_s: 0.2, ms: 1 },
    look: 'A level several times too high that is rough at every scale: random pulses without a rhythm, a broad bell, a spectrum raised evenly.',
    slow: 'The end of its scale: a level cut flat from above. With the flow off it would stay.',
  },
  {
    ...jet,
    id: 'arcs',
    title: 'Arcs to the inlet',
    fault: 'arcing',
    seconds: 4,
    meter: 'usual',
    zoom: { at_s: 0, ms: 300 },
    look: 'Lone spikes to the end of the scale, and after each a hole: the voltage breaks down and the spray has to form anew.',
    slow: 'The spikes are cut down, the holes remain. Real arcs end emitters: lower the voltage first, then look.',
  },
  {
    ...jet,
    id: 'mains',
    title: 'Mains and leak: a floating ground upstream',
    fault: 'floating-ground',
    meter: 'usual',
    seconds: 0.4,
    zoom: { at_s: 0.2, ms: 60 },
    look: 'An even sine of 20 ms on a level that is too high; a distribution with two shoulders; one tall line at 50 Hz.',
    slow: 'All of it passes the slow meter: mains is slow.',
  },
  {
    ...jet,
    id: 'pump',
    title: 'Pump pulsation',
    fault: 'pump-pulsation',
    meter: 'usual',
    seconds: 30,
    zoom: { at_s: 10, ms: 10_000 },
    look: 'A swing of some seconds, half as large as that of the flow; it slows down with the flow and goes with the pressure.',
    slow: 'The same: look for it in any trace longer than half a minute.',
  },
  {
    ...jet,
    id: 'electrolysis-gas',
    title: 'Gas passes the tip',
    fault: 'electrolysis-gas',
    meter: 'usual',
    seconds: 20,
    zoom: { at_s: 0, ms: 1500 },
    look: 'Square holes down to nothing, each followed by one spike: the liquid that waited behind the gas leaves as a drop.',
    slow: 'Holes and returns are kept, the spike is lower.',
  },
  {
    ...jet,
    id: 'loose-contact',
    title: 'Loose contact',
    fault: 'loose-contact',
    meter: 'usual',
    seconds: 20,
    zoom: { at_s: 0, ms: 1500 },
    look: 'Holes of any length without the spike of a bubble: the supply sags, the spray stops, comes back through pulsation.',
    slow: 'Holes without their edges: bubble and contact look alike. Touching the contact (by trained hands, voltage off) tells.',
  },
  {
    ...jet,
    id: 'hanging-drop',
    title: 'A drop beside the tip',
    fault: 'hanging-drop',
    voltage: { depth: 0.1 },
    meter: 'usual',
    seconds: 20,
    zoom: { at_s: 0, ms: 1500 },
    look: 'The spray gives way as the drop widens the contact line, a spike as it falls, and all over again: a sawtooth whose period goes as one over the flow.',
    slow: 'The sawtooth of the mean remains; the pulses within it do not.',
  },
];
