import { describe, expect, it } from 'vitest';
import {
  gradedBreaks,
  hyperboloidPanels,
  solveField,
  spherePanels,
  spheroidPanels,
} from '../../src/core/field/index.ts';

/** The panels' own claim on these smooth bodies. */
const EXACT = 1e-5;
/** Uniform field of strength 1 on a body at zero potential, centred at z = 0. */
const height = (_r: number, z: number): number => z;

const error = (found: number, exact: number): number => Math.abs(found / exact - 1);

describe('conductors with exact answers', () => {
  it('sphere: capacitance 4 pi R, uniform field, factor 3 at the pole of a sphere in a uniform field', () => {
    const radius = 0.7;
    const sphere = spherePanels(radius, 0, 6, 8);
    const charged = solveField(sphere, undefined)!;
    expect(error(charged.charge, 4 * Math.PI * radius)).toBeLessThan(EXACT);
    for (const sigma of charged.sigma) expect(error(sigma, 1 / radius)).toBeLessThan(EXACT);
    expect(error(solveField(sphere, undefined, height)!.apexField, 3)).toBeLessThan(EXACT);
  });

  it('hemispherical boss on a plate: the same factor 3 by the image plane', () => {
    const breaks = [0, 0.1, 0.3, 0.6, 1].map((x) => (x * Math.PI) / 2);
    const boss = spheroidPanels({ semiAxis: 1, equatorialRadius: 1, z: 0, order: 6, breaks });
    expect(error(solveField(boss, 0, height)!.apexField, 3)).toBeLessThan(EXACT);
  });

  it.each([10, 1, 0.1, 0.01])('sphere at %f radii from a plane: capacitance by the image series', (gap) => {
    const alpha = Math.acosh(1 + gap);
    let exact = 0;
    for (let n = 1; n * alpha < 60; n++) exact += 4 * Math.PI * (Math.sinh(alpha) / Math.sinh(n * alpha));
    const breaks = gradedBreaks(Math.PI, {
      first: Math.min(0.5, Math.sqrt(gap) / 2),
      last: 0.8,
      ratio: 1.8,
      largest: 0.8,
    });
    const sphere = spheroidPanels({ semiAxis: 1, equatorialRadius: 1, z: 0, order: 6, breaks });
    expect(error(solveField(sphere, 1 + gap)!.charge, exact)).toBeLessThan(EXACT);
  });

  it.each([2, 5, 20, 100])(
    'prolate spheroid %f times as long as wide in a uniform field: apex factor 1 / n',
    (c) => {
      const k = Math.sqrt(1 - 1 / (c * c));
      const share = ((1 - k * k) / k ** 3) * (Math.atanh(k) - k);
      const half = gradedBreaks(Math.PI / 2, { first: 1 / (2 * c), last: 0.4, ratio: 1.8, largest: 0.4 });
      const breaks = [
        ...half,
        ...half
          .slice(0, -1)
          .reverse()
          .map((t) => Math.PI - t),
      ];
      const spheroid = spheroidPanels({ semiAxis: c, equatorialRadius: 1, z: 0, order: 6, breaks });
      expect(error(solveField(spheroid, undefined, height)!.apexField, 1 / share)).toBeLessThan(EXACT);
    },
  );

  it.each([
    [10, 28.248782],
    [100, 4.232056],
  ])('hyperboloid, tip radius %f um, 3 mm from a plane: apex field %f per mm', (tipRadius, perMillimetre) => {
    const distance = 3000;
    const eta = 1 / Math.sqrt(1 + tipRadius / distance);
    const exact = 1 / ((distance / eta) * (1 - eta * eta) * Math.atanh(eta));
    expect(error(exact * 1000, perMillimetre)).toBeLessThan(1e-7); // the published figure has eight digits
    // 10,000 distances long: the end of a body of 1,000 still changes the tip by 2e-5.
    const body = { tipRadius, distance, lengthBehind: 1e4 * distance, order: 6, firstPanel: 0.5, ratio: 1.8 };
    expect(error(solveField(hyperboloidPanels(body), distance)!.apexField, exact)).toBeLessThan(EXACT);
  });

  it('converge with the order of the panels when their size is halved twice', () => {
    const errors = [4, 8, 16].map((count) =>
      error(solveField(spherePanels(1, 0, 4, count), undefined, height)!.apexField, 3),
    );
    const orders = [Math.log2(errors[0]! / errors[1]!), Math.log2(errors[1]! / errors[2]!)];
    // Four nodes a panel: polynomials of degree 3, so fourth order in the density; half an order is left for the end value.
    for (const order of orders) expect(order).toBeGreaterThan(3.5);
  });
});
