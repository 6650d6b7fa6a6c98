export * from './api.ts';
export { observationsFrom, observationsSchema, planRequestFrom } from './observations.ts';
export { setupFrom, setupJsonSchema, setupSchema } from './setup.ts';
