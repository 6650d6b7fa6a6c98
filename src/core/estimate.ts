/**
 * A computed value with its range, what it rests on and whether the model is inside its stated validity.
 * `low` and `high` bound about 80 % of belief (judgement where no statistics exist), never a hard limit.
 * Outside validity the value stands, `valid` is false and the range is doubled on each side.
 */
export interface Estimate {
  value: number;
  low: number;
  high: number;
  /** What kind of statement this is: the model's name, 'measured', 'judgement' … in a few plain words. */
  basis: string;
  /** Author, year, journal, page or DOI, with 'read (abstract)', 'computed' or 'from memory'. */
  sources: string[];
  valid: boolean;
  /** Why it is not valid, or what limits it; absent when there is nothing to say. */
  note?: string;
}

export interface EstimateOptions {
  basis: string;
  sources: readonly string[];
  valid?: boolean;
  note?: string | undefined;
}

/** value in [low, high]; outside validity both half-ranges are doubled. Throws RangeError on NaN or a crossed range: a limit reached is a case for the caller. */
export function estimate(value: number, low: number, high: number, options: EstimateOptions): Estimate {
  if (!(Number.isFinite(value) && low <= value && value <= high)) {
    throw new RangeError(
      `invalid estimate: ${low} … ${value} … ${high}; expected finite low <= value <= high`,
    );
  }
  const valid = options.valid ?? true;
  const widen = valid ? 1 : 2;
  const result: Estimate = {
    value,
    low: value - widen * (value - low),
    high: value + widen * (high - value),
    basis: options.basis,
    sources: [...options.sources],
    valid,
  };
  if (options.note !== undefined) result.note = options.note;
  return result;
}

/** Range value·(1 ± relative). For a doubled range of a positive quantity see `estimateFactor`. */
export function estimateRelative(value: number, relative: number, options: EstimateOptions): Estimate {
  const half = Math.abs(value) * relative;
  return estimate(value, value - half, value + half, options);
}

/** Range value/factor … value·factor for positive quantities known to a factor; outside validity the factor is squared, so the range stays positive. */
export function estimateFactor(value: number, factor: number, options: EstimateOptions): Estimate {
  const valid = options.valid ?? true;
  const f = valid ? factor : factor * factor;
  return { ...estimate(value, value / f, value * f, { ...options, valid: true }), valid };
}

/** Begins the basis of every value that was measured by the user. */
export const MEASURED = 'measured';

/** A value the person measured or stated; `relative` is its stated or customary uncertainty. */
export function measured(value: number, relative: number, what: string): Estimate {
  return estimateRelative(value, relative, { basis: `${MEASURED}, given by the user`, sources: [what] });
}

/** Marks an estimate whose inputs were outside their validity and have widened its range already. */
export function inheritValidity(e: Estimate, ...inputs: readonly Estimate[]): Estimate {
  return inputs.every((input) => input.valid) ? e : { ...e, valid: false };
}

export interface PowerTerm {
  estimate: Estimate;
  exponent: number;
}

/**
 * Range of value = c·Π xᵢ^nᵢ where c itself is known to [coefficientLow, coefficientHigh] (relative to 1).
 * Log half-widths add in quadrature (independent inputs), each side on its own. Needs positive inputs.
 * Validity and sources are inherited from every input.
 */
export function powerProduct(
  value: number,
  terms: readonly PowerTerm[],
  coefficientLow: number,
  coefficientHigh: number,
  options: EstimateOptions,
): Estimate {
  let up = Math.log(coefficientHigh) ** 2;
  let down = Math.log(coefficientLow) ** 2;
  let valid = options.valid ?? true;
  const sources = [...options.sources];
  const notes = options.note === undefined ? [] : [options.note];
  for (const { estimate: term, exponent } of terms) {
    const high = Math.log(term.high / term.value) * exponent;
    const low = Math.log(Math.max(term.low, term.value * SMALLEST_SHARE) / term.value) * exponent;
    up += Math.max(high, low, 0) ** 2;
    down += Math.min(high, low, 0) ** 2;
    valid = valid && term.valid;
    if (!term.valid && term.note !== undefined) notes.push(term.note);
    for (const source of term.sources) if (!sources.includes(source)) sources.push(source);
  }
  // An invalid input has already doubled its own range; only this law's own invalidity doubles here.
  const own = options.valid === false ? 2 : 1;
  const result: Estimate = {
    value,
    low: value * Math.exp(-Math.sqrt(down) * own),
    high: value * Math.exp(Math.sqrt(up) * own),
    basis: options.basis,
    sources,
    valid,
  };
  if (notes.length > 0) result.note = notes.join('; ');
  return result;
}

/** A lower end at or under zero stands for 'at least a hundred times less' in a product of powers. */
const SMALLEST_SHARE = 0.01;
