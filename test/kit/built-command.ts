/**
 * The built command, called two ways. `commandAlone` starts a process of its own, as a person does; `commandHere` parses and runs
 * the same arguments by the same built program inside the test's process, which spares the start (0.7 s each) and leaves out only
 * `src/cli/main.ts`. Every command is called alone at least once in its test file. Breaks where two calls of `commandHere` run
 * at once: they would share stdout, stderr and the exit code.
 */
import { spawnSync } from 'node:child_process';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';

const built = join(import.meta.dirname, '..', '..', 'dist', 'cli');
export const builtProgram = join(built, 'main.js');

export interface CommandPlace {
  /** Folder of the bench; the machine's own where not given, so give it wherever something is kept. */
  home?: string;
  cwd?: string;
}

export interface CommandResult {
  code: number | null;
  out: string;
  err: string;
}

/** Room for the longest reading as JSON. */
const OUTPUT_BYTES_MAX = 1 << 28;

export function commandAlone(
  args: readonly string[],
  { home, cwd, input, timeout_ms }: CommandPlace & { input?: string; timeout_ms?: number } = {},
): CommandResult {
  const { status, stdout, stderr } = spawnSync(process.execPath, [builtProgram, ...args], {
    encoding: 'utf8',
    env: home === undefined ? process.env : { ...process.env, STEADYCONE_HOME: home },
    maxBuffer: OUTPUT_BYTES_MAX,
    ...(cwd === undefined ? {} : { cwd }),
    ...(input === undefined ? {} : { input }),
    ...(timeout_ms === undefined ? {} : { timeout: timeout_ms }),
  });
  return { code: status, out: stdout, err: stderr };
}

export async function commandHere(
  args: readonly string[],
  { home, cwd }: CommandPlace = {},
): Promise<CommandResult> {
  const { program } = await room<typeof import('../../src/cli/program.ts')>('program');
  const { refusal } = await room<typeof import('../../src/cli/refusal.ts')>('refusal');
  const before = { home: process.env.STEADYCONE_HOME, cwd: process.cwd(), exitCode: process.exitCode };
  const out = heard(process.stdout);
  const err = heard(process.stderr);
  if (home !== undefined) process.env.STEADYCONE_HOME = home;
  if (cwd !== undefined) process.chdir(cwd);
  process.exitCode = undefined;
  try {
    await program()
      .parseAsync([...args], { from: 'user' })
      .catch((error: unknown) => {
        process.exitCode = refusal(error);
      });
    return { code: Number(process.exitCode ?? 0), out: out.text(), err: err.text() };
  } finally {
    out.end();
    err.end();
    if (before.home === undefined) delete process.env.STEADYCONE_HOME;
    else process.env.STEADYCONE_HOME = before.home;
    process.chdir(before.cwd);
    process.exitCode = before.exitCode;
  }
}

function room<T>(name: string): Promise<T> {
  return import(pathToFileURL(join(built, `${name}.js`)).href) as Promise<T>;
}

/** Takes what is written to a stream until `end`. */
function heard(stream: NodeJS.WriteStream): { text: () => string; end: () => void } {
  const pieces: Buffer[] = [];
  const write = stream.write;
  stream.write = ((piece: string | Uint8Array, ...more: unknown[]) => {
    pieces.push(Buffer.from(piece as string));
    const done = more.at(-1);
    if (typeof done === 'function') done();
    return true;
  }) as typeof stream.write;
  return {
    text: () => Buffer.concat(pieces).toString('utf8'),
    end: () => {
      stream.write = write;
    },
  };
}
