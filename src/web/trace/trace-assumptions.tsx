/** The end of the Trace page: what the reading assumes, and where a real bench differs. */
import { Assumptions } from '../assumptions.tsx';

const ASSUMED: readonly string[] = [
  'The meter is one pole with the bandwidth that was told, or that its noise shows. Above it nothing is seen, and nothing is made up.',
  'A meniscus pulsates in the natural mode of a charged drop: 20 to 250 kHz for emitters of 10 to 30 µm, slower where the flow chokes it.',
  'Several jets share one flow, so the current steps by the square root of their number.',
  'Each window is read by itself, then beside its neighbours. Thresholds and probabilities are judgement, tuned on made traces, not on measurements.',
  'The plan’s expected current is good to a factor 2 either way until your own steady reading stands behind it; by itself it names no regime.',
];

const DIFFERS: readonly string[] = [
  'Cables move and pick up, supplies ripple, amplifiers ring: each can look like a rhythm of the spray.',
  'Wet insulation leaks, and more so on a humid day: a leak that creeps looks like a small steady spray until the flow is off.',
  'Charge that lands on a shield or on the inlet’s rim misses a meter at the counter electrode; a contact upstream makes the column part of the circuit.',
  'Emitters age, and a jet that leans carries the current of an upright one: look at the meniscus too.',
  'The trace is taken beside high voltage. Change connections only with it off and discharged, by the rules of your lab.',
];

export function TraceAssumptions() {
  return <Assumptions title="What this reading assumes" assumed={ASSUMED} differs={DIFFERS} />;
}
