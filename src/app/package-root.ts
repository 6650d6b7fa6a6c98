/** The package's own folder and version: the sources and the built files stand equally deep in it. */
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

/** Absolute path of a file of the package, for example `examples/gradient-proteomics.yaml`. */
export function packagePath(relative: string): string {
  return fileURLToPath(new URL(`../../${relative}`, import.meta.url));
}

let known: string | undefined;

export function version(): string {
  known ??= (JSON.parse(readFileSync(packagePath('package.json'), 'utf8')) as { version: string }).version;
  return known;
}
