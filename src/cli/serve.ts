import { Command } from 'commander';
import { ensureDemoBench, openBench, readingText } from '../app/index.ts';
import { inputError } from '../core/errors.ts';
import { planText } from '../core/plan/index.ts';
import { DEFAULT_PORT } from '../server/default-port.ts';

export function serveCommand(): Command {
  return new Command('serve')
    .description('serve the page on this computer only')
    .option('--port <number>', 'port on 127.0.0.1', String(DEFAULT_PORT))
    .option('--demo', 'put in the invented demo on the first start and print its plan and reading')
    .action(async (options: { port: string; demo?: true }) => {
      const port = Number(options.port);
      if (!Number.isInteger(port) || port < 0 || port > 65535)
        throw inputError('invalid', 'port', options.port, 'a whole number from 0 to 65535');
      const bench = await openBench();
      process.stdout.write(`Bench store: ${bench.folder} (through ${bench.driver})\n`);
      try {
        if (options.demo) {
          const demo = await ensureDemoBench(bench);
          process.stdout.write(
            `\n=== Demo, all of it invented ===\n\n${planText(demo.setup, demo.plan)}\n\n${readingText(demo.reading)}\n\n`,
          );
        }
        // Loaded here: every other command starts without it.
        const { startServer, webFolder } = await import('../server/index.ts');
        const server = await startServer({ bench, port, webRoot: webFolder() });
        process.stdout.write(
          `Steadycone serves on ${server.address}  (Ctrl+C stops it; everything kept stays)\n`,
        );
        const stop = () => {
          void server
            .close()
            .then(() => bench.close())
            .then(() => process.exit(0));
        };
        process.once('SIGINT', stop);
        process.once('SIGTERM', stop);
      } catch (error) {
        await bench.close();
        throw error;
      }
    });
}
