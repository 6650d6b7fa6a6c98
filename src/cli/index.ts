export { program } from './program.ts';
