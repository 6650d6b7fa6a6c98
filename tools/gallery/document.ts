/** The Gallery section of docs/reading-current.md, made from the cases. */
import { CASES } from './cases.ts';

const BEGIN = '## Gallery';

export function galleryText(): string {
  const sheets = CASES.map(
    ({ id, title, look, slow }) =>
      `**${title}** (invented). Look for: ${look} Through a slow meter: ${slow}\n\n![${title}: an invented current trace](gallery/${id}.svg)\n`,
  );
  return `${BEGIN}
Every trace here is **invented**: rehearsed, seeded (emitter 24, \`tools/gallery.ts\` makes all of it again), no measurement and no evidence. Each sheet
holds the trace whole (lowest to highest sample of each column) and in part, how often which current was seen (logarithmic: rare spikes count),
the spectrum, and below them the same emitter through a resistor meter of 1.1 kHz, 10 kS/s and 12 bits. Both traces have one scale.

${sheets.join('\n')}`;
}

/** The document with its Gallery section replaced, or added at its end. */
export function withGallery(document: string): string {
  const at = document.indexOf(`\n${BEGIN}\n`);
  if (at < 0) return `${document.trimEnd()}\n\n${galleryText()}`;
  const next = document.indexOf('\n## ', at + BEGIN.length);
  return `${document.slice(0, at + 1)}${galleryText()}${next < 0 ? '' : document.slice(next)}`;
}
