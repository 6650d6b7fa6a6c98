/** Memory of the browser's own processes, from the system's accounts (Linux): present, peak, and the part that is no mapped file. */
import { readFileSync } from 'node:fs';
import type { Browser } from 'playwright-core';

export interface ProcessMemory {
  /** Resident now, and at its highest since the process began. */
  rss_MB: number;
  peak_MB: number;
  /** Resident and private to no file: the program's own data. */
  anonymous_MB: number;
}

/** Process numbers by the browser's own account: 'browser', 'renderer' and others. */
export async function browserProcesses(browser: Browser): Promise<{ type: string; id: number }[]> {
  const session = await browser.newBrowserCDPSession();
  const { processInfo } = await session.send('SystemInfo.getProcessInfo');
  await session.detach();
  return processInfo.map(({ type, id }) => ({ type, id }));
}

export function processMemory(id: number): ProcessMemory {
  const status = readFileSync(`/proc/${id}/status`, 'utf8');
  const field = (name: string) =>
    Number(new RegExp(`${name}:\\s*(\\d+)`).exec(status)?.[1] ?? Number.NaN) / 1024;
  return { rss_MB: field('VmRSS'), peak_MB: field('VmHWM'), anonymous_MB: field('RssAnon') };
}
