export function findBrowser(): Promise<string>;
/** Nothing of the browser's own may go out while requests are counted or time is taken. */
export const quietArgs: string[];
