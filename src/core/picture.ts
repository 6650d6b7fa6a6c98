/**
 * Drawings as lists of plain marks, so that page, SVG file and report show the same. Marks carry the page's drawing classes
 * (`d-ink`, `d-text` …); a file that stands alone brings their styles along.
 */
export interface Picture {
  width: number;
  height: number;
  title: string;
  marks: Mark[];
}

export interface Mark {
  shape: 'path' | 'rect' | 'text' | 'circle';
  /** SVG attributes, `class` among them. */
  at: Record<string, string | number>;
  text?: string;
  /** Words for a pointer that rests there. */
  tip?: string;
}

export function pictureSvg(picture: Picture, alone = true): string {
  const { width, height } = picture;
  const marks = picture.marks
    .map(({ shape, at, text, tip }) => {
      const names = Object.entries(at)
        .map(([name, value]) => ` ${name}="${escaped(String(value))}"`)
        .join('');
      const inner = `${tip === undefined ? '' : `<title>${escaped(tip)}</title>`}${text === undefined ? '' : escaped(text)}`;
      return inner === '' ? `<${shape}${names}/>` : `<${shape}${names}>${inner}</${shape}>`;
    })
    .join('\n');
  const size = alone ? ` width="${width}" height="${height}"` : '';
  const style = alone ? `<style>${ALONE}</style><rect width="100%" height="100%" fill="#fff"/>` : '';
  return `<svg xmlns="http://www.w3.org/2000/svg"${size} viewBox="0 0 ${width} ${height}" role="img"><title>${escaped(picture.title)}</title>${style}${HATCH}\n${marks}\n</svg>\n`;
}

/** Fills for kept minutes and events: shapes that also read without colour. */
const HATCH =
  '<defs><pattern id="q-kept" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(-45)"><path d="M0 0V7" class="d-hatch"/></pattern><pattern id="q-event" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path d="M0 0V6" class="d-hatch-solid"/></pattern><pattern id="q-dots" width="8" height="8" patternUnits="userSpaceOnUse"><circle cx="2" cy="2" r="1.3" class="d-glyph"/><circle cx="6" cy="6" r="1.3" class="d-glyph"/></pattern></defs>';

/** The page's drawing classes in black on white. */
const ALONE = [
  '.d-ink{stroke:#1b2126;fill:none;stroke-width:1.2}',
  '.d-dim{stroke:#4c545b;fill:none;stroke-width:1}',
  '.d-composed{stroke:#0b5563;fill:none;stroke-width:1.6;stroke-dasharray:7 4}',
  '.d-hatch{stroke:#0b5563;stroke-width:1.5}.d-hatch-solid{stroke:#7a4312;stroke-width:1.3}',
  '.d-liquid{fill:#cfe3e4;stroke:none}',
  '.d-trace{fill:none;stroke:#0b5563;stroke-width:1.2}.d-event{stroke:#7a4312;fill:none;stroke-width:1.4}',
  '.d-glyph{fill:#7a4312;stroke:#7a4312;stroke-width:1.5}',
  '.d-solid{fill:#ecd9c2;stroke:#7a4312;stroke-width:1.5}.d-jet{fill:none;stroke:#0b5563}.d-bar{fill:#1b2126;stroke:none}',
  '.d-halo{paint-order:stroke;stroke:#fff;stroke-width:4px}',
  '.d-text{fill:#1b2126;font:15px Arial,sans-serif}.d-text-soft{fill:#4c545b;font:14px Arial,sans-serif}',
].join('');

export function escaped(text: string): string {
  return text
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;');
}

/** Pictures of one width under each other, each with its heading if it has one. */
export function stacked(title: string, parts: readonly { heading: string; picture: Picture }[]): Picture {
  const width = Math.max(400, ...parts.map((part) => part.picture.width));
  const marks: Mark[] = [words(6, 22, title)];
  let top = 40;
  for (const { heading, picture } of parts) {
    if (heading !== '') {
      marks.push(words(6, top + 18, heading));
      top += 26;
    }
    for (const mark of picture.marks)
      marks.push({ ...mark, at: { ...mark.at, transform: `translate(0 ${top})` } });
    top += picture.height + 12;
  }
  return { width, height: top, title, marks };
}

/** Two decimals are a hundredth of a pixel. */
export function px(value: number): number {
  return Math.round(value * 100) / 100;
}

export function words(x: number, y: number, text: string, more: Record<string, string | number> = {}): Mark {
  return { shape: 'text', at: { x: px(x), y: px(y), class: 'd-text', ...more }, text };
}

/** A round step at or above `least`: 1, 2 or 5 times a power of ten. */
export function roundStep(least: number): number {
  if (!(least > 0)) return 1;
  const power = 10 ** Math.floor(Math.log10(least));
  const lead = least / power;
  return power * (lead <= 1 ? 1 : lead <= 2 ? 2 : lead <= 5 ? 5 : 10);
}
