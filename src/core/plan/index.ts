export { figure } from './figure.ts';
export type { ElectricState, GradientRow, Plan } from './plan.ts';
export { planFor } from './plan-for.ts';
export { planText, withRange } from './plan-text.ts';
