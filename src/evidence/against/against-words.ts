/** What a comparison with good runs says in sentences, and what it cannot decide. */
import type { RunReading } from '../run-reading.ts';
import { percentText } from '../words.ts';
import type { AgainstReading, AgainstReference } from './against-reading.ts';

/** A reference's own events from this confidence on put its name as a good run in doubt. */
const DOUBT = 0.5;
/** A load beyond this differs worth a sentence. */
const LOAD_TOLD = 1.3;
/** Shifts below this are those of the steps [s]. */
const SHIFT_TOLD_S = 5;

export function againstSentences(reading: AgainstReading, references: readonly RunReading[]): string[] {
  const used = reading.references.filter(({ refused }) => refused === undefined);
  const list: string[] = [];
  for (const { name, refused } of reading.references)
    if (refused !== undefined) list.push(`${name} cannot serve as the good run: ${refused}.`);
  if (used.length === 0) return list;
  list.push(restsOn(reading, used));
  for (const one of used) list.push(timesSentence(one));
  if (reading.ratio) {
    const { value, low, high } = reading.ratio;
    const what =
      reading.from === 'standing ions'
        ? 'the position of the emitter, the inlet or the liquid, the same all through the run'
        : 'sample load or the position of the emitter, the same all through the run';
    const lasting = reading.events.some(({ kind }) => kind === 'step' || kind === 'drift');
    list.push(
      `${lasting ? 'Before what is told below this run stood' : 'Over all this run stands'} at ${value.toFixed(2)} times (${low.toFixed(2)} to ${high.toFixed(2)}) the good ${runs(used.length)}: ${what}, and by itself no fault of the spray.`,
    );
  }
  if (reading.load && (reading.load.low > LOAD_TOLD || reading.load.high < 1 / LOAD_TOLD)) {
    const { value, low, high, ions } = reading.load;
    list.push(
      `Against the standing ions the eluting ones are ${value.toFixed(2)} times (${low.toFixed(2)} to ${high.toFixed(2)}) as strong (${ions} ions): another load of sample.`,
    );
  }
  if (reading.wander !== undefined && reading.least_step !== undefined)
    list.push(
      `The ratio wanders by ${percentText(reading.wander)} from minute to minute, so lasting changes of ${percentText(reading.least_step)} or more would be told.`,
    );
  if (reading.events.length === 0)
    list.push('The ratio is flat: nothing happened to this run that did not happen to the good ones.');
  const doubtful = reading.references.filter(
    ({ refused }, i) =>
      refused === undefined &&
      references[i]?.events.some(({ kind, confidence }) => kind !== 'acquisition gap' && confidence >= DOUBT),
  );
  for (const { name } of doubtful)
    list.push(
      `${name} holds events of its own: look whether it is a good run, since its faults show here upside down.`,
    );
  return list;
}

function restsOn({ from }: AgainstReading, used: readonly AgainstReference[]): string {
  const names = used.map(({ name }) => name).join(', ');
  const ions = Math.min(...used.map((one) => one.ions ?? 0));
  if (from === 'standing ions')
    return `Held against ${names} by ${ions} ions that stand in both runs throughout: elution and load do not move them.`;
  if (from === 'passing ions')
    return `Held against ${names} by ${ions} ions that elute in both: too few stand throughout, so a load that changes along the run moves the ratio too.`;
  return `Held against ${names} by the level alone: another sample or load moves the ratio as a spray does.`;
}

function timesSentence({ name, alignment }: AgainstReference): string {
  if (!alignment || alignment.from === 'nothing')
    return `${name}: its run times are taken as they are, too little passes in both to lay them over each other.`;
  const shifts = alignment.points.map(({ shift_s }) => shift_s);
  const [low, high] = [Math.min(...shifts), Math.max(...shifts)];
  if (Math.max(-low, high) < SHIFT_TOLD_S) return `${name}: the run times agree (by ${alignment.from}).`;
  return `${name}: in this run the same comes ${shiftWords(low, high)} (by ${alignment.from}); that is taken out.`;
}

export function againstUndecided(reading: AgainstReading): string[] {
  const used = reading.references.filter(({ refused }) => refused === undefined);
  const list: string[] = [];
  if (used.length === 1)
    list.push(
      'Which of the two runs changed: one good run cannot tell. Decides: a second good run of the same method.',
    );
  if (reading.from !== 'standing ions')
    list.push(
      'Another load late in the gradient, or a column that ages (peaks move and widen): both move this ratio slowly. Decides: a blank of the same method, or an ion that is always there.',
    );
  else
    list.push(
      'A liquid of other background, or a gradient mixed otherwise: standing ions follow both. Decides: a blank of the same method from the same bottles.',
    );
  list.push(
    'A loss of spray, of position or at the inlet: all lower every ion alike. Decides: the mean spray current over the same minutes (unchanged: position or inlet).',
  );
  return list;
}

/** Time of the good run less time of this one: below zero it comes later here. */
function shiftWords(low: number, high: number): string {
  const size = (shift_s: number): string => Math.abs(shift_s).toFixed(0);
  if (low >= 0) return `${size(low)} to ${size(high)} s earlier`;
  if (high <= 0) return `${size(high)} to ${size(low)} s later`;
  return `up to ${size(high)} s earlier and up to ${size(low)} s later`;
}

function runs(count: number): string {
  return count === 1 ? 'run' : 'runs';
}
