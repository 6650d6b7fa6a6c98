import { expect, it } from 'vitest';
import { exampleSetup } from './example-setup.ts';
import { SETUP_CHARACTERS_MAX, setupFromText, troubleText } from './setup-text.ts';

const YAML = `name: a made-up second
emitter: { bore_um: 20, rim_um: 40 }
liquid: { acetonitrile_percent: 30, additive: formic acid, additive_percent: 0.1 }
feed: { kind: pumped, flow_nL_min: 250 }
polarity: positive
inlet: { distance_mm: 4 }
voltage: { contact: tip, column: [] }
`;
const refusal = (text: string) => setupFromText(text).then(() => 'taken', troubleText);

it('takes YAML and JSON alike', async () => {
  expect((await setupFromText(YAML)).setup.emitter.rim_um).toBe(40);
  const { document, setup } = await setupFromText(JSON.stringify(exampleSetup));
  expect(document).toEqual(exampleSetup);
  expect(setup.feed).toEqual({ kind: 'pumped', flow_nL_min: 300 });
});

it('refuses what is no set-up in one line, with every fault', async () => {
  expect(await refusal('  ')).toContain('missing set-up');
  expect(await refusal('emitter: [')).toMatch(/invalid set-up document: line \d+, column \d+/);
  expect(await refusal('just words')).toContain('no list of keys');
  expect(await refusal(`#${'x'.repeat(SETUP_CHARACTERS_MAX)}`)).toContain('out of range');
  const faults = await refusal(
    YAML.replace('rim_um: 40', 'rim_um: -1').replace('distance_mm: 4', 'distance_mm: far'),
  );
  expect(faults).toContain('emitter.rim_um');
  expect(faults).toContain('inlet.distance_mm');
});
