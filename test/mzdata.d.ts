declare module 'mzdata' {
  /** Reads mzData, mzML or mzXML; times in seconds, ms data as [m/z[], intensity[]] for each spectrum. */
  export function parseMZ(
    xml: ArrayBuffer | Uint8Array | string,
    options?: object,
  ): Promise<{ times: number[]; series: { ms: { data: [number[], number[]][] } } }>;
}
