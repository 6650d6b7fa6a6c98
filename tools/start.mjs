// `npm start`: set-up, build, the demo's plan and reading in the terminal, then the page on 127.0.0.1.
import { spawn } from 'node:child_process';
import { join } from 'node:path';
import { build, install, main, root } from './steps.mjs';

await main(() => {
  install();
  build();
  const server = spawn(
    process.execPath,
    [join(root, 'dist', 'cli', 'main.js'), 'serve', '--demo', ...process.argv.slice(2)],
    {
      stdio: 'inherit',
    },
  );
  for (const signal of ['SIGINT', 'SIGTERM']) process.on(signal, () => server.kill(signal));
  server.on('exit', (code) => process.exit(code ?? 0));
});
