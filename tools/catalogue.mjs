// Writes src/core/causes/faults/index.ts from the files beside it, so that a new fault is one data file and no code.
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const FOLDER = fileURLToPath(new URL('../src/core/causes/faults/', import.meta.url));

export function writeCatalogueIndex() {
  const ids = readdirSync(FOLDER)
    .filter((name) => name.endsWith('.ts') && name !== 'index.ts')
    .map((name) => name.slice(0, -3))
    .sort();
  const variable = (id) => id.replace(/-(.)/g, (_, letter) => letter.toUpperCase());
  const text = [
    '/** Written by tools/catalogue.mjs: one line for each file of this folder. */',
    "import type { Fault } from '../types.ts';",
    ...ids.map((id) => `import { fault as ${variable(id)} } from './${id}.ts';`),
    '',
    'export const FAULTS: readonly Fault[] = [',
    ...ids.map((id) => `  ${variable(id)},`),
    '];',
    '',
  ].join('\n');
  const file = join(FOLDER, 'index.ts');
  if (readFileSync(file, 'utf8') !== text) writeFileSync(file, text);
}

if (process.argv[1] === fileURLToPath(import.meta.url)) writeCatalogueIndex();
