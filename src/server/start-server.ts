/** The server on this computer alone: it asks nobody for a password, so it listens on loopback addresses only. */
import fastify, { type FastifyInstance } from 'fastify';
import type { Bench } from '../app/index.ts';
import { inputError } from '../core/errors.ts';
import { addApi } from './api.ts';
import { DEFAULT_PORT } from './default-port.ts';
import { addErrors } from './errors.ts';
import { addGuard, loopbackNames } from './guard.ts';
import { addPage, webFolder } from './page.ts';

export interface ServerOptions {
  bench: Bench;
  /** Default: 127.0.0.1. */
  host?: string;
  /** Default: 4747; 0 takes any free port. */
  port?: number;
  /** Default: where the build puts the page. */
  webRoot?: string;
}

export interface RunningServer {
  /** For example http://127.0.0.1:4747 */
  address: string;
  /** Ends open uploads too; they store nothing. */
  close(): Promise<void>;
}

/** JSON bodies: a set-up or a note is far below. */
const JSON_BYTES_MAX = 1024 * 1024;

export async function buildServer(
  options: Pick<ServerOptions, 'bench' | 'webRoot'>,
): Promise<FastifyInstance> {
  const app = fastify({
    bodyLimit: JSON_BYTES_MAX,
    forceCloseConnections: true,
    // A label of 80 letters may take twelve characters each in an address.
    routerOptions: { maxParamLength: 1000 },
  });
  addErrors(app);
  addGuard(app);
  addApi(app, options.bench);
  await addPage(app, options.webRoot ?? webFolder());
  return app;
}

export async function startServer(options: ServerOptions): Promise<RunningServer> {
  const { host = '127.0.0.1', port = DEFAULT_PORT } = options;
  if (!loopbackNames.some((name) => name === host)) {
    throw inputError(
      'invalid',
      'host',
      host,
      `one of ${loopbackNames.join(', ')}: the bench is not open to a network`,
    );
  }
  if (!Number.isInteger(port) || port < 0 || port > 65535) {
    throw inputError('out of range', 'port', String(port), 'a whole number from 1 to 65535');
  }
  const app = await buildServer(options);
  try {
    const address = await app.listen({ host, port });
    return { address, close: () => app.close() };
  } catch (error) {
    await app.close();
    throw portFault(error, port);
  }
}

function portFault(error: unknown, port: number): unknown {
  const other = port < 65535 ? port + 1 : DEFAULT_PORT;
  switch ((error as NodeJS.ErrnoException).code) {
    case 'EADDRINUSE':
      return inputError(
        'invalid',
        'port',
        `${port}, already in use`,
        `a free port, for example --port ${other}`,
      );
    case 'EACCES':
      return inputError(
        'invalid',
        'port',
        `${port}, not open to you`,
        `a port above 1023, for example --port ${DEFAULT_PORT}`,
      );
    default:
      return error;
  }
}
