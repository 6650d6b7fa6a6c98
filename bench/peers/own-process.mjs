// One process of ours for the cold comparison: starts, loads the built solver, solves once, prints field and milliseconds.
import { hyperboloidPanels, solveField } from '../../dist/core/field/index.js';

const { tipRadius, distance, order, firstPanel, ratio } = JSON.parse(process.argv[2]);
const start = performance.now();
const panels = hyperboloidPanels({
  tipRadius,
  distance,
  lengthBehind: 1e4 * distance,
  order,
  firstPanel,
  ratio,
});
const { apexField } = solveField(panels, distance);
process.stdout.write(`${apexField} ${performance.now() - start}\n`);
