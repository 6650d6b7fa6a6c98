export { webFolder } from './page.ts';
export {
  buildServer,
  DEFAULT_PORT,
  type RunningServer,
  type ServerOptions,
  startServer,
} from './start-server.ts';
