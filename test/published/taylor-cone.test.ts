import { describe, expect, it } from 'vitest';
import { emitterPanels } from '../../src/core/field/index.ts';
import { deepBranch, emitterAtVoltage } from '../../src/core/meniscus/index.ts';

/** Half angle of the infinite cone in balance with its own field: the zero of P_1/2(cos(pi - angle)). */
const TAYLOR = 49.29;
/** The cone is finite: it ends in a rounded apex (0.43 degrees more close to it) and at the rim. */
const ANGLE = 0.5;
/** Where the cone is judged, in contact-line radii: clear of the apex (radius 1/1557) and of the rim. */
const FROM = 0.006;
const TO = 0.28;
/** Figures given with four or five digits by an independent program. */
const AGREEMENT = 1e-3;
const VOLT = 237.635; // sqrt(gamma a / eps0) of 0.05 N/m and 10 um

const degrees = (rad: number): number => (rad * 180) / Math.PI;

describe('far behind the turning point (rim 1.5 radii, 300 from the plane, 1000 long, no overpressure)', () => {
  const profile = { rimRadius: 1.5, halfAngle: 0, shankRadius: 1.5, length: 1000 };
  const around = emitterAtVoltage(emitterPanels(profile, { order: 6, edgePanel: 0.03, ratio: 2.5 }), 300)!;
  const hold = { kind: 'pressure', pressure: 0 } as const;
  const branch = deepBranch({ around, hold, startHeight: 0, sharpest: 1557 });

  it('is followed to an apex 1557 times sharper than the contact line', () => {
    expect(branch.reason).toBeUndefined();
    expect(branch.points.at(-1)!.kappa).toBeCloseTo(1557, 3);
  });

  it("shows Taylor's cone between apex and rim without having been told of it", () => {
    const cone = [...branch.halfAngle]
      .filter((_, i) => branch.r[i]! > FROM && branch.r[i]! < TO)
      .map(degrees);
    expect(cone.length).toBeGreaterThan(20);
    for (const angle of cone) expect(Math.abs(angle - TAYLOR)).toBeLessThan(ANGLE);
  });

  it('is a cone only between: the rounded apex and the rim leave other angles', () => {
    const nearApex = degrees(branch.halfAngle[0]!);
    const atRim = degrees(branch.halfAngle.at(-1)!);
    expect(nearApex).toBeGreaterThan(80);
    expect(atRim).toBeGreaterThan(TAYLOR + 4);
  });

  it('ends at a height of 0.8389 and 0.9665 of the largest voltage, after voltage has fallen, risen and fallen', () => {
    const last = branch.points.at(-1)!;
    expect(Math.abs(last.H / 0.8389 - 1)).toBeLessThan(AGREEMENT);
    expect(Math.abs((last.V * VOLT) / 1126.9 - 1)).toBeLessThan(AGREEMENT);
    const turns = branch.points.slice(1, -2).filter((p, k) => {
      const before = p.V - branch.points[k]!.V;
      const after = branch.points[k + 2]!.V - p.V;
      return before * after < 0;
    });
    expect(turns.length).toBeGreaterThanOrEqual(3);
  });
});
