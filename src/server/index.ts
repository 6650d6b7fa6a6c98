export { DEFAULT_PORT } from './default-port.ts';
export { webFolder } from './page.ts';
export {
  buildServer,
  type RunningServer,
  type ServerOptions,
  startServer,
} from './start-server.ts';
