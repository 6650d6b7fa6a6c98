export * from './api.ts';
export { setupFrom, setupJsonSchema, setupSchema } from './setup.ts';
