/** Where the page is served unless another port is asked for. */
export const DEFAULT_PORT = 4747;
