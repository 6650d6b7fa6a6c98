/** The command as a person calls it: the built program, each command once in a process of its own, with a bench folder of its own. */
import { spawn } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { builtProgram, commandAlone, commandHere } from '../kit/built-command.ts';

const root = join(import.meta.dirname, '..', '..');
const home = mkdtempSync(join(tmpdir(), 'steadycone-cli-'));
const mzdataFolder = dirname(createRequire(import.meta.url).resolve('mzdata/package.json'));
const realRun = join(mzdataFolder, 'src', 'mzxml', 'lcMsMs.mzXML');
const example = join(root, 'examples', 'gradient-proteomics.yaml');
afterAll(() => rmSync(home, { recursive: true, force: true }));

const call = (...args: string[]) => commandHere(args, { home });
const alone = (...args: string[]) => commandAlone(args, { home });

function scratch(name: string, text: string | Uint8Array): string {
  const path = join(home, name);
  writeFileSync(path, text);
  return path;
}

const planKeys = [
  'onset_V', 'window_low_V', 'window_high_V', 'advised_V', 'tip_V', 'current_nA', 'jet_diameter_nm',
  'droplet_diameter_nm', 'minimum_flow_nL_min', 'ohmic_drop_V', 'feed_pressure_bar',
  'surface_tension_mN_m',
  'conductivity_S_m',
]; // biome-ignore format: the issue's own list

describe('steadycone plan', () => {
  it.each(['gradient-proteomics', 'native-static', 'negative-lipids'])(
    'plans the example %s',
    async (name) => {
      const { code, out, err } = await call('plan', join(root, 'examples', `${name}.yaml`), '--json');
      expect(err).toBe('');
      expect(code).toBe(0);
      const plan = JSON.parse(out);
      for (const key of planKeys) {
        if (key === 'tip_V' && plan.tip_V === undefined) continue;
        expect(Object.keys(plan[key])).toEqual(
          expect.arrayContaining(['value', 'low', 'high', 'basis', 'sources', 'valid']),
        );
        expect(Number.isFinite(plan[key].value)).toBe(true);
      }
      expect(plan.conductivity_S_m.value).toBeGreaterThan(0);
      expect(plan.plan_id).toMatch(/^plan-\d+$/);
    },
  );

  it('prints words for people, with cautions', () => {
    const { code, out } = alone('plan', example);
    expect(code).toBe(0);
    expect(out).toContain('Limited most by:');
    expect(out).toContain('High voltage');
  });

  it('says that the native example bulges out and drips under a gas pressure no meniscus bears', async () => {
    const native = readFileSync(join(root, 'examples', 'native-static.yaml'), 'utf8');
    const pressed = scratch(
      'pressed.yaml',
      native.replace('back_pressure_mbar: 100', 'back_pressure_mbar: 2000'),
    );
    const { code, out } = await call('plan', pressed, '--no-keep');
    expect(code).toBe(0);
    expect(out).toContain('The liquid bulges out and drips without field');
    expect(out).toContain('none: no equilibrium exists');
    expect(out).not.toContain('solver failed');
    const plan = JSON.parse((await call('plan', pressed, '--no-keep', '--json')).out);
    expect(plan.meniscus.kind).toBe('no equilibrium');
    expect(plan.held_pressure.no_equilibrium_probability).toBeGreaterThan(0.5);
    expect(plan.held_pressure.over_capillary.low).toBeLessThan(plan.held_pressure.over_capillary.high);
    expect(plan.advice_withheld).toContain('no equilibrium exists');
  });

  it('names every fault, one line each, and exits 1', () => {
    const bad = scratch(
      'bad.yaml',
      'emitter: { bore_um: -1, rim_um: x }\nliquid: {}\nfeed: { kind: pumped }\ninlet: {}\n',
    );
    const { code, out, err } = alone('plan', bad);
    expect(code).toBe(1);
    expect(out).toBe('');
    expect(err.trim().split('\n').length).toBeGreaterThanOrEqual(4);
    expect(err).toContain('out of range emitter.bore_um: -1 µm');
    expect(err).not.toContain('at Object');
  });

  it.each([
    ['missing.yaml', undefined],
    ['broken.yaml', 'emitter: [1, 2\n  - x'],
    ['empty.yaml', ''],
  ])('refuses %s with one line', async (name, text) => {
    const path = text === undefined ? join(home, name) : scratch(name, text);
    const { code, err } = await call('plan', path);
    expect(code).toBe(1);
    expect(err.trim().split('\n')).toHaveLength(1);
  });
});

describe('steadycone read', () => {
  it('reads the packaged real run: 736 MS1, a verdict and what is undecided', () => {
    const { code, out } = alone('read', realRun, '--json');
    expect(code).toBe(0);
    const reading = JSON.parse(out);
    expect(reading.ms1_count).toBe(736);
    expect(reading.groups.reduce((n: number, g: { ms1_count: number }) => n + g.ms1_count, 0)).toBe(736);
    expect(reading.verdict.sentence.length).toBeGreaterThan(10);
    expect(reading.undecided.length).toBeGreaterThan(0);
    expect(out).not.toMatch(/NaN/);
  });

  it('keeps what stands before a cut, says where it broke, and exits non-zero', () => {
    const whole = readFileSync(realRun);
    const cut = scratch('cut.mzXML', whole.subarray(0, Math.floor(whole.length / 2)));
    const { code, out, err } = alone('read', cut, '--json');
    expect(code).toBe(1);
    const reading = JSON.parse(out);
    expect(reading.ms1_count).toBeGreaterThan(200);
    expect(reading.broken.byte).toBeGreaterThan(whole.length / 2 - 100_000);
    expect(err).toMatch(/broken at byte \d+/);
  });

  it.each([
    ['empty.mzML', ''],
    ['page.mzML', '<!doctype html><html><body>not a run</body></html>'],
    ['text.mzML', 'time,tic\n1,2\n'],
  ])('refuses %s with one line', async (name, text) => {
    const { code, err } = await call('read', scratch(name, text));
    expect(code).toBe(1);
    expect(err.trim().split('\n')).toHaveLength(1);
    expect(err).toMatch(/invalid|missing/);
  });

  it('gives CSV', async () => {
    const { code, out } = await call('read', realRun, '--csv', '--no-keep');
    expect(code).toBe(0);
    const lines = out.trim().split('\n');
    expect(lines[0]).toContain('time_s');
    expect(lines.length).toBe(737);
  });
});

describe('steadycone bench', () => {
  it('lists, finds, shows, notes and exports what was kept', async () => {
    await call('plan', example);
    await call('read', realRun);
    const items = JSON.parse((await call('bench', 'list', '--json')).out);
    const kinds = new Set(items.map((item: { kind: string }) => item.kind));
    for (const kind of ['emitter', 'setup', 'plan', 'run', 'reading']) expect(kinds).toContain(kind);
    const run = items.find((item: { kind: string }) => item.kind === 'run');
    expect((await call('bench', 'note', run.id, 'new', 'tip', '--who', 'ab')).code).toBe(0);
    expect(alone('bench', 'list', '--find', 'new tip').out).toContain('new tip');
    expect(JSON.parse((await call('bench', 'show', run.id)).out).related.length).toBeGreaterThan(0);
    expect(alone('bench', 'export').out).toContain('new tip');
  });

  it.each([
    ['show', 'run-999'],
    ['note', 'run-999', 'x'],
    ['list', '--kind', 'spoon'],
  ])('refuses %s %s with one line', async (...args) => {
    const { code, err } = await call('bench', ...args);
    expect(code).toBe(1);
    expect(err.trim().split('\n')).toHaveLength(1);
  });
});

describe('a bench folder that cannot be made', () => {
  it.runIf(process.platform === 'linux')('is one line below a system path too, and does not hang', () => {
    const { code, err } = commandAlone(['bench', 'list'], {
      home: '/proc/steadycone/bench',
      timeout_ms: 20_000,
    });
    expect(code).toBe(1);
    expect(err.trim().split('\n')).toHaveLength(1);
    expect(err).toContain('not writable; expected a folder you may write to');
  });

  it('does not cost the plan that was asked for', () => {
    const { code, out, err } = commandAlone(['plan', example], {
      home: join(scratch('a-file', 'x'), 'below'),
    });
    expect(code).toBe(0);
    expect(out).toContain('Limited most by:');
    expect(err).toMatch(/^steadycone: not kept: invalid bench folder/);
  });
});

describe('the kit of these tests', () => {
  it.each([
    ['plan', example, '--no-keep', '--json'],
    ['read', realRun, '--no-keep', '--csv'],
    ['read', join(home, 'none.mzML'), realRun, '--no-keep', '--json'],
    ['bench', 'show', 'run-999'],
    ['plan', '--help'],
    ['plan', '--spoon'],
  ])('hears the same from a command called here as from one alone: %s', async (...args) => {
    expect(await call(...args)).toEqual(alone(...args));
  });
});

describe('steadycone setup and schema', () => {
  it('prints a starting document that plans as it stands', async () => {
    const path = scratch('start.yaml', alone('setup', 'new').out);
    expect((await call('plan', path)).code).toBe(0);
  });

  it('prints the JSON Schema', async () => {
    const schema = JSON.parse(alone('schema', 'setup').out);
    for (const kind of ['observations', 'settle-session', 'settle-reading', 'settle-proof'])
      expect(JSON.parse((await call('schema', kind)).out).type).toBe('object');
    expect((await call('schema')).out).toContain('observations     observations: plan --observe\n');
    expect((await call('schema', 'spoon')).err).toContain(
      'unknown document: spoon; expected setup, observations, ',
    );
    expect(schema.properties.emitter.properties.bore_um.description).toContain('µm');
  });
});

describe('steadycone serve', () => {
  it('serves on this computer only, and a second one on the port is refused with the cure', async () => {
    const server = spawn(process.execPath, [builtProgram, 'serve', '--port', '0'], {
      env: { ...process.env, STEADYCONE_HOME: home },
    });
    try {
      const address = await new Promise<string>((resolve, reject) => {
        let text = '';
        server.stdout.on('data', (chunk: Buffer) => {
          text += chunk.toString();
          const found = /(http:\/\/127\.0\.0\.1:\d+)/.exec(text);
          if (found?.[1]) resolve(found[1]);
        });
        server.on('exit', (code) => reject(new Error(`ended with ${code}`)));
      });
      const status = await (await fetch(`${address}/api/status`)).json();
      expect(status).toHaveProperty('version');
      const page = await (await fetch(`${address}/`)).text();
      expect(page).toContain('Steadycone');
      const second = alone('serve', '--port', new URL(address).port);
      expect(second.code).toBe(1);
      expect(second.err).toContain('already in use');
    } finally {
      server.kill();
    }
  });
});
