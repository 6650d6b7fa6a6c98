import { describe, expect, it } from 'vitest';
import { randomStream } from '../../core/random.ts';
import { effectWords } from './effect-words.ts';
import { NO_EFFECTS } from './fault-effects.ts';
import { namedFault, REHEARSED_FAULTS, UNSAID } from './index.ts';
import { faultEffects } from './rehearsed-faults.ts';

describe('a named fault', () => {
  it('is right, alike, near or another', () => {
    expect(namedFault('leakage', 'leakage').kind).toBe('right');
    expect(namedFault('none', 'none').kind).toBe('right');
    expect(namedFault('detector', 'inlet-dirty').kind).toBe('alike');
    expect(namedFault('leak-before-column', 'leak-after-column').kind).toBe('near');
    expect(namedFault('none', 'leakage').kind).toBe('other');
    expect(namedFault('leakage', 'none').kind).toBe('other');
    expect(namedFault(UNSAID, 'leakage').kind).toBe('unsaid');
  });

  it('comes with what tells the two apart, where the catalogue knows, from either side', () => {
    const words = 'only a leak before the column lowers the pressure';
    expect(namedFault('leak-before-column', 'leak-after-column').words).toContain(words);
    expect(namedFault('leak-after-column', 'leak-before-column').words).toContain(words);
    expect(namedFault('none', 'leakage').words).toContain('nothing: it is sound');
  });
});

it('every played fault has words for each thing it changes, and a sound bench none', () => {
  expect(effectWords(NO_EFFECTS)).toEqual([]);
  for (const { id } of REHEARSED_FAULTS) {
    const words = effectWords(faultEffects(id, randomStream(1, id)));
    expect(words.length, id).toBeGreaterThan(0);
    for (const sentence of words) expect(sentence).toMatch(/^[A-Z0-9].*\.$/);
    expect(words.join(' ')).not.toMatch(/NaN|undefined|Infinity/);
  }
});
