import { describe, expect, it } from 'vitest';
import type { Setup } from '../setup.ts';
import { planFor, planText } from './index.ts';

function setup(change: (s: Setup) => void = () => {}): Setup {
  const base: Setup = {
    emitter: {
      bore_um: 10,
      rim_um: 20,
      taper_half_angle_deg: 8,
      shank_diameter_um: 360,
      free_length_mm: 10,
      material: 'fused silica',
      wets: 'rim',
      inside: 'widens',
    },
    liquid: {
      acetonitrile_percent: 25,
      methanol_percent: 0,
      propanol_2_percent: 0,
      additive: 'formic acid',
      additive_percent: 0.1,
      temperature_C: 25,
    },
    feed: { kind: 'pumped', flow_nL_min: 300 },
    polarity: 'positive',
    inlet: { distance_mm: 2.5, lateral_offset_mm: 0, angle_deg: 0, bore_mm: 0.5, potential_V: 0 },
    voltage: {
      supply_V: 1900,
      contact: 'liquid junction',
      column: [
        { bore_um: 75, length_mm: 150, open_fraction: 1 },
        { bore_um: 20, length_mm: 10, open_fraction: 1 },
      ],
    },
  };
  change(base);
  return base;
}

/** From a share of B to all of it in an hour; B holds 80 % acetonitrile. */
function toWholeB(percent_B: number): Setup['gradient'] {
  return {
    bottle_A_organic_percent: 0,
    bottle_B_organic_percent: 80,
    organic: 'acetonitrile',
    table: [
      { time_min: 0, percent_B },
      { time_min: 60, percent_B: 100 },
    ],
  };
}

describe('planFor', () => {
  it('solves tip voltage and current together: supply = tip + I R', () => {
    const plan = planFor(setup());
    expect(plan.electric_state.kind).toBe('cone-jet expected');
    expect(plan.tip_V!.value + plan.ohmic_drop_V.value).toBeCloseTo(1900, 6);
    expect(plan.ohmic_drop_V.value).toBeGreaterThan(50);
  });

  it('says where the contact must be when the column takes the voltage', () => {
    const plan = planFor(
      setup((s) => {
        s.voltage.column = [{ bore_um: 20, length_mm: 500, open_fraction: 1 }];
      }),
    );
    expect(plan.electric_state.kind).toBe('no cone-jet at this supply and contact');
    expect(plan.electric_state.sentence).toMatch(/a contact within [\d.]+ mm of the tip would work/);
    expect(plan.tip_V).toBeUndefined();
  });

  it('is below onset at a supply below onset, and above the window far up', () => {
    const direct = (supply_V: number) =>
      planFor(
        setup((s) => {
          s.voltage = { supply_V, contact: 'tip', column: [] };
        }),
      );
    expect(direct(300).electric_state.kind).toBe('below onset');
    expect(direct(3500).electric_state.kind).toBe('above window');
  });

  it('counts the inlet potential with the sign of the polarity', () => {
    const at = (polarity: 'positive' | 'negative', potential_V: number) =>
      planFor(
        setup((s) => {
          s.polarity = polarity;
          s.inlet.potential_V = potential_V;
          s.voltage = { contact: 'tip', column: [] };
        }),
      ).advised_supply_V.value;
    expect(at('positive', 100) - at('positive', 0)).toBeCloseTo(100, 6);
    expect(at('negative', -100) - at('negative', 0)).toBeCloseTo(100, 6);
  });

  it('every number lies in its range with a basis and sources', () => {
    const plan = planFor(setup());
    const estimates = [
      ...Object.values(plan.liquid),
      ...Object.values(plan).filter((v) => typeof v === 'object' && v !== null && 'basis' in v),
    ] as { value: number; low: number; high: number; basis: string; sources: string[] }[];
    expect(estimates.length).toBeGreaterThan(15);
    for (const e of estimates) {
      expect(e.low).toBeLessThanOrEqual(e.value);
      expect(e.high).toBeGreaterThanOrEqual(e.value);
      expect(e.basis).not.toBe('');
      expect(e.sources.length).toBeGreaterThan(0);
    }
  });

  it('a measured conductivity narrows the current band, and 80 % acetonitrile widens it', () => {
    const width = (change: (s: Setup) => void) => {
      const { current_nA: I } = planFor(setup(change));
      return I.high / I.low;
    };
    const model = width((s) => {
      s.liquid.acetonitrile_percent = 80;
    });
    const known = width((s) => {
      s.liquid.acetonitrile_percent = 80;
      s.liquid.conductivity_S_m = 0.002;
    });
    const aqueous = width((s) => {
      s.liquid.acetonitrile_percent = 5;
    });
    expect(known).toBeLessThan(model);
    expect(aqueous).toBeLessThan(model);
  });

  it('warns of a flow below the minimum, and says when it cannot decide', () => {
    const low = planFor(
      setup((s) => {
        s.feed = { kind: 'pumped', flow_nL_min: 0.5 };
      }),
    );
    expect(low.warnings.join(' ')).toMatch(/below the minimum for this liquid/);
    expect(low.electric_state.kind).toBe('flow below the minimum');
    expect(low.advice_withheld).toMatch(/below the minimum/);
    expect(planFor(setup()).advice_withheld).toBeNull();
    const near = planFor(
      setup((s) => {
        s.liquid.acetonitrile_percent = 80;
        s.feed = { kind: 'pumped', flow_nL_min: 300 };
      }),
    );
    expect(near.warnings.join(' ')).toMatch(
      /not decidable \(\d+ % that it is below\): read the spray current/,
    );
  });

  it('lets a wall outside the contact line raise the onset above the closed formula', () => {
    const straight = (wets: 'bore' | 'rim') =>
      planFor(
        setup((s) => {
          s.emitter = {
            ...s.emitter,
            bore_um: 20,
            rim_um: 100,
            shank_diameter_um: 100,
            taper_half_angle_deg: 0,
            wets,
          };
          s.voltage = { contact: 'tip', column: [] };
        }),
      );
    const { meniscus } = straight('bore');
    if (meniscus.kind !== 'solved') throw new Error(meniscus.reason);
    expect(meniscus.contact).toBe('inner edge');
    expect(meniscus.onset_V / meniscus.closed_form_V).toBeGreaterThan(2);
    expect(straight('rim').meniscus.kind).toBe('solved');
  });

  it('gives chances that add to 1 at each voltage, and orders the edges of the window', () => {
    const { window, onset_V } = planFor(setup());
    window.voltage_V.forEach((_, k) => {
      const sum =
        window.below_onset[k]! +
        window.pulsating[k]! +
        window.steady[k]! +
        window.tilted[k]! +
        window.several_jets[k]! +
        window.discharge[k]!;
      expect(Math.abs(sum - 1)).toBeLessThan(1e-9);
    });
    expect(onset_V.value).toBeLessThan(window.start_of_steady_V.value);
    expect(window.start_of_steady_V.value).toBeLessThan(window.tilt_V.value);
    expect(window.tilt_V.value).toBeLessThan(window.several_jets_V.value);
    expect(window.returns_down_to_V.value).toBeLessThan(window.start_of_steady_V.value);
  });

  it('lowers the discharge limit in negative polarity', () => {
    const limit = (polarity: 'positive' | 'negative') =>
      planFor(
        setup((s) => {
          s.polarity = polarity;
          s.liquid.acetonitrile_percent = 0;
          s.emitter = { ...s.emitter, bore_um: 30, rim_um: 60 };
        }),
      ).window.discharge_V!.value;
    expect(limit('negative')).toBeLessThan(limit('positive'));
  });

  it('narrows by what was seen and says before and after', () => {
    const bare = setup((s) => {
      s.voltage = { contact: 'tip', column: [] };
    });
    const before = planFor(bare);
    const after = planFor(bare, {
      observations: [
        { tip_V: 1300, seen: 'onset here' },
        { tip_V: 1500, seen: 'steady' },
      ],
    });
    const width = (e: { low: number; high: number }) => e.high / e.low;
    expect(width(after.onset_V)).toBeLessThan(0.6 * (width(before.onset_V) - 1) + 1);
    expect(after.onset_V.low).toBeLessThan(1300);
    expect(after.onset_V.high).toBeGreaterThan(1300);
    expect(after.calibration!.sentences.join(' ')).toContain('onset');
    expect(before.calibration).toBeUndefined();
  });

  it('says when nothing it believes explains what was seen, and still answers', () => {
    const bare = setup((s) => {
      s.voltage = { contact: 'tip', column: [] };
    });
    const odd = planFor(bare, {
      observations: [
        { tip_V: 400, seen: 'several jets' },
        { tip_V: 3000, seen: 'no spray' },
        { tip_V: 450, seen: 'discharge' },
        { tip_V: 3500, seen: 'onset here' },
      ],
    });
    expect(odd.calibration!.sentences[0]).toContain('hardly fits');
    expect(odd.onset_V.value).toBeGreaterThan(0);
  });

  it('reads a conductivity from a current that was seen', () => {
    const unsure = setup((s) => {
      s.liquid.acetonitrile_percent = 80;
      s.voltage = { contact: 'tip', column: [] };
    });
    const before = planFor(unsure);
    const low = planFor(unsure, {
      observations: [
        { tip_V: before.advised_V.value, seen: 'steady', current_nA: 0.75 * before.current_nA.value },
      ],
    });
    expect(low.liquid.conductivity_S_m.value).toBeLessThan(0.8 * before.liquid.conductivity_S_m.value);
    const width = (e: { low: number; high: number }) => e.high / e.low;
    expect(width(low.liquid.conductivity_S_m)).toBeLessThan(width(before.liquid.conductivity_S_m));
  });

  it('names what limits each answer, shares at most one together', () => {
    for (const { answer, limited_by } of planFor(setup()).sensitivities) {
      expect(limited_by.length, answer).toBeGreaterThan(0);
      expect(
        limited_by.reduce((sum, { share }) => sum + share, 0),
        answer,
      ).toBeLessThan(1.1);
    }
  });

  it('gives a static feed as a range of flow', () => {
    const plan = planFor(
      setup((s) => {
        s.feed = { kind: 'static', back_pressure_mbar: 300 };
      }),
    );
    expect(plan.flow_nL_min.high / plan.flow_nL_min.low).toBeGreaterThan(1.5);
  });

  it('follows the gradient: onset falls, minimum flow rises with the organic share', () => {
    const plan = planFor(
      setup((s) => {
        s.gradient = toWholeB(3);
      }),
    );
    const [start, end] = plan.along_gradient;
    expect(end!.organic_percent).toBe(80);
    expect(end!.onset_V).toBeLessThan(start!.onset_V);
    expect(end!.minimum_flow_nL_min).toBeGreaterThan(5 * start!.minimum_flow_nL_min);
  });

  it('prints as text with the cautions', () => {
    const text = planText(setup(), planFor(setup()));
    expect(text).toContain('onset');
    expect(text).toContain('High voltage: before a hand goes near');
    expect(text).not.toMatch(/NaN|undefined/);
  });

  it('warns of a jet too thick for its tip and of a pressure no pump gives', () => {
    const warnings = planFor(
      setup((s) => {
        s.emitter = { ...s.emitter, bore_um: 0.5, rim_um: 1, inside: 'constant' };
      }),
    ).warnings.join(' ');
    expect(warnings).toMatch(/not thin against a contact line/);
    expect(warnings).toMatch(/alone would need about \d+ bar/);
  });

  it('advises no supply where more than 5000 V would be needed', () => {
    const plan = planFor(
      setup((s) => {
        s.voltage = {
          contact: 'liquid junction',
          column: [{ bore_um: 10, length_mm: 900, open_fraction: 1 }],
        };
      }),
    );
    expect(plan.electric_state.sentence).toMatch(/No supply can be advised .* a contact within [\d.]+ mm/);
    expect(plan.tip_V).toBeUndefined();
    expect(plan.limited_by).toMatch(/electrical contact/);
    expect(plan.advice_withheld).toMatch(/more than 5000 V/);
  });

  it('keeps every range positive far outside validity', () => {
    const far = planFor(
      setup((s) => {
        s.emitter.wets = 'bore';
        s.inlet.angle_deg = 90;
        s.liquid.temperature_C = 60;
        delete s.voltage.supply_V;
      }),
    );
    expect(far.onset_V.valid).toBe(false);
    for (const e of [
      far.onset_V,
      far.advised_V,
      far.advised_supply_V,
      far.tip_V!,
      far.current_nA,
      far.droplet_diameter_nm,
    ])
      expect(e.low).toBeGreaterThan(0);
  });

  it('warns where along the gradient the supply or the flow no longer serves', () => {
    const warnings = planFor(
      setup((s) => {
        s.gradient = toWholeB(30);
      }),
    ).warnings.join('\n');
    expect(warnings).toMatch(/Along the gradient, at 60 min \(80 % organic\): No cone-jet at this supply/);
    expect(warnings).toMatch(
      /Along the gradient, at 60 min \(80 % organic\): Whether 300 nL\/min is above the minimum flow/,
    );
  });

  it('names no volts lost where no current flows, and no supply beyond what it advises', () => {
    const far = setup((s) => {
      s.voltage.column = [{ bore_um: 1, length_mm: 5000, open_fraction: 1 }];
    });
    expect(planFor(far).warnings.join('\n')).not.toMatch(/is lost in the liquid/);
    expect(planText(far, planFor(far))).toMatch(/supply for advised +none/);
  });

  it('warns of a spark across a short gap, and of an inlet already past the advised voltage', () => {
    const said = (change: (s: Setup) => void) => planFor(setup(change)).warnings.join('\n');
    const direct = (supply_V: number): Setup['voltage'] => ({ supply_V, contact: 'tip', column: [] });
    expect(
      said((s) => {
        s.voltage = direct(8000);
      }),
    ).toMatch(/may spark/);
    expect(said(() => {})).not.toMatch(/may spark/);
    expect(
      said((s) => {
        s.voltage = direct(0);
        s.inlet.potential_V = -2000;
      }),
    ).toMatch(/inlet potential alone/);
  });

  it('keeps the pressure of a static feed within gas pressure and electric pull', () => {
    const { feed_pressure_bar: p } = planFor(
      setup((s) => {
        s.feed = { kind: 'static', back_pressure_mbar: 300 };
      }),
    );
    expect(p.low).toBeGreaterThan(0.2);
    expect(p.high).toBeLessThan(0.4);
  });

  it('knows a sibling less than the emitter that was seen, and better than one of which nothing was', () => {
    const observations = [
      { tip_V: 1150, seen: 'onset here' as const },
      { tip_V: 1350, seen: 'steady' as const },
    ];
    const width = (plan: ReturnType<typeof planFor>) => Math.log(plan.onset_V.high / plan.onset_V.low);
    const own = planFor(setup(), { observations });
    const next = planFor(setup(), { observations, sibling: true });
    expect(width(next)).toBeGreaterThan(width(own));
    expect(width(next)).toBeLessThan(width(planFor(setup())));
    expect(planText(setup(), next)).toContain('sibling');
    expect(planText(setup(), own)).not.toContain('sibling');
  });
});
