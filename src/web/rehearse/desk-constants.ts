/** What page and worker share without loading each other. */

/** Samples shown one by one. */
export const ZOOM_SAMPLES = 500;
/** One turn of the slowed pulsation [s]. */
export const CYCLE_S = 2;
