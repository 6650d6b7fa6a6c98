/** The fault that a person named beside the one that was: right, right as far as this bench can tell, near, or another. */
import { FAULTS } from '../../core/causes/index.ts';
import { rehearsedFaultName, SAME_HERE } from './rehearsed-faults.ts';

export interface NamedAnswer {
  /** 'alike': nothing on this bench tells the two apart. 'near': of the same family. */
  kind: 'right' | 'alike' | 'near' | 'other' | 'unsaid';
  words: string;
}

export const UNSAID = 'do not know';

/** `said` and `was`: an id, 'none', and for what was said also `UNSAID`. */
export function namedFault(said: string, was: string): NamedAnswer {
  const name = rehearsedFaultName;
  if (said === UNSAID) return { kind: 'unsaid', words: `You left it open. It was: ${name(was)}.` };
  if (said === was) return { kind: 'right', words: `You said: ${name(said)}. Right.` };
  const both = `You said: ${name(said)}. It was: ${name(was)}.`;
  if (SAME_HERE.some((group) => group.includes(said) && group.includes(was)))
    return { kind: 'alike', words: `${both} Nothing on this bench tells the two apart: counted as right.` };
  const apart = lookAlike(said, was);
  const told = apart === undefined ? '' : ` Told apart: ${apart}.`;
  const family = familyOf(was);
  if (family !== undefined && family === familyOf(said))
    return { kind: 'near', words: `${both} Not so, but the same family (${family}).${told}` };
  return { kind: 'other', words: `${both} Not so.${told}` };
}

function familyOf(id: string): string | undefined {
  return FAULTS.find((fault) => fault.id === id)?.family;
}

/** The catalogue's own sentence on what separates the two, from either side. */
function lookAlike(said: string, was: string): string | undefined {
  const from = (a: string, b: string) =>
    FAULTS.find(({ id }) => id === a)?.lookAlikes.find(({ fault }) => fault === b)?.words;
  return from(was, said) ?? from(said, was);
}
