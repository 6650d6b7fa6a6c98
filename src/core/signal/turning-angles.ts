/**
 * Cosine and sine of 2 pi f t at uneven times t for equally spaced frequencies f, one after another: angles are turned on from one
 * frequency to the next, which loses about a digit in a thousand turns, so they are computed anew now and then.
 */
export interface TurningAngles {
  /** At the present frequency, one for each time, counted from the first time. */
  readonly cos: Float64Array;
  readonly sin: Float64Array;
  /** Goes to the next frequency; the first call goes to the first one. */
  toNext(): void;
}

const RENEW = 64;

export function turningAngles(time_s: ArrayLike<number>, from_Hz: number, step_Hz: number): TurningAngles {
  const n = time_s.length;
  const origin = time_s[0] ?? 0;
  const cos = new Float64Array(n);
  const sin = new Float64Array(n);
  const turnCos = new Float64Array(n);
  const turnSin = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    const angle = 2 * Math.PI * step_Hz * (time_s[i]! - origin);
    turnCos[i] = Math.cos(angle);
    turnSin[i] = Math.sin(angle);
  }
  let k = 0;
  return {
    cos,
    sin,
    toNext() {
      if (k % RENEW === 0) {
        const omega = 2 * Math.PI * (from_Hz + k * step_Hz);
        for (let i = 0; i < n; i++) {
          cos[i] = Math.cos(omega * (time_s[i]! - origin));
          sin[i] = Math.sin(omega * (time_s[i]! - origin));
        }
      } else
        for (let i = 0; i < n; i++) {
          const c = cos[i]!;
          const s = sin[i]!;
          cos[i] = c * turnCos[i]! - s * turnSin[i]!;
          sin[i] = s * turnCos[i]! + c * turnSin[i]!;
        }
      k++;
    },
  };
}
