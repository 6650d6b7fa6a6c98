import { spawnSync } from 'node:child_process';

/** True where the program starts at all. */
export function present(program: string): boolean {
  return spawnSync(program, ['--version'], { stdio: 'ignore' }).error === undefined;
}

/**
 * Installs the Debian packages, only when asked by PEERS=install and where this process may; otherwise says why not.
 * Nothing of the project needs them.
 */
export function installPeers(packages: readonly string[]): string | undefined {
  if (process.env.PEERS !== 'install')
    return `not installed; PEERS=install lets this benchmark fetch the Debian packages ${packages.join(', ')}`;
  if (process.getuid?.() !== 0) return 'not installed: only the administrator may install Debian packages';
  const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' };
  for (const args of [['update'], ['install', '-y', '--no-install-recommends', ...packages]]) {
    const { error, status } = spawnSync('apt-get', args, { stdio: 'ignore', env });
    if (error !== undefined || status !== 0) return `apt-get ${args[0]} failed: ${error?.message ?? status}`;
  }
  return undefined;
}
