// One process of ours for the cold comparison: starts, loads the built solver, solves once, prints field and milliseconds.
// Run as it is, bundled into one file, or from a start-up snapshot made of that file.
import { startupSnapshot } from 'node:v8';
import { hyperboloidPanels, solveField } from '../../dist/core/field/index.js';

function solve() {
  const { tipRadius, distance, order, firstPanel, ratio } = JSON.parse(process.argv.at(-1));
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
}

if (startupSnapshot.isBuildingSnapshot()) startupSnapshot.setDeserializeMainFunction(solve);
else solve();
