import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { exampleTraces } from './example-traces.ts';

for (const [name, text] of Object.entries(exampleTraces()))
  writeFileSync(join(import.meta.dirname, '..', '..', 'examples', name), text);
