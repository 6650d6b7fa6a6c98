/** The set-up in the page's address: compact JSON as base64url of UTF-8, so that a link alone brings the plan back. */
export function toAddress(document: unknown): string {
  const bytes = new TextEncoder().encode(JSON.stringify(document));
  let text = '';
  for (const byte of bytes) text += String.fromCharCode(byte);
  return btoa(text).replaceAll('+', '-').replaceAll('/', '_').replace(/=+$/, '');
}

/** The document of an address, or undefined where the text is no such thing. */
export function fromAddress(text: string): Record<string, unknown> | undefined {
  try {
    const raw = atob(text.replaceAll('-', '+').replaceAll('_', '/'));
    const bytes = Uint8Array.from(raw, (char) => char.charCodeAt(0));
    const value: unknown = JSON.parse(new TextDecoder('utf-8', { fatal: true }).decode(bytes));
    return isRecord(value) ? value : undefined;
  } catch {
    return undefined;
  }
}

/** The plan of a set-up, calibrated by what was seen where that is given; without a set-up the page brings its own example. */
export function planHref(document: unknown, observations: readonly unknown[] = []): string {
  const parts = [
    ...(document === undefined ? [] : [`s=${toAddress(document)}`]),
    ...(observations.length === 0 ? [] : [`o=${toAddress({ observations })}`]),
  ];
  return `/plan?${parts.join('&')}`;
}

export function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
