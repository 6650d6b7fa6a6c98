/** Hands a text to the browser as a download, and turns a drawing on the page into a picture that stands alone. */
import { escaped } from '../core/picture.ts';

export function saveText(name: string, type: string, text: string): void {
  const url = URL.createObjectURL(new Blob([text], { type }));
  const link = document.createElement('a');
  link.href = url;
  link.download = name;
  link.click();
  // The download has its own hold on the blob once it has begun; a minute is ample.
  setTimeout(() => URL.revokeObjectURL(url), 60_000);
}

export function saveJson(name: string, value: unknown): void {
  saveText(name, 'application/json', `${JSON.stringify(value, null, 2)}\n`);
}

const carried = [
  'fill',
  'stroke',
  'stroke-width',
  'stroke-dasharray',
  'font-family',
  'font-size',
  'font-weight',
  'text-anchor',
];

/** Several drawings side by side in one SVG, their computed styles written into them. */
export function pictureText(drawings: readonly SVGSVGElement[], title: string): string {
  const ground = getComputedStyle(document.documentElement).getPropertyValue('--sheet').trim() || '#ffffff';
  let left = 0;
  let height = 0;
  const parts: string[] = [];
  for (const drawing of drawings) {
    const copy = drawing.cloneNode(true) as SVGSVGElement;
    const from = [drawing, ...drawing.querySelectorAll<SVGElement>('*')];
    const to = [copy, ...copy.querySelectorAll<SVGElement>('*')];
    from.forEach((element, i) => {
      const style = getComputedStyle(element);
      const target = to[i];
      if (!target) return;
      for (const name of carried) target.setAttribute(name, style.getPropertyValue(name));
      target.removeAttribute('class');
    });
    const [, , w = 0, h = 0] = (drawing.getAttribute('viewBox') ?? '').split(/\s+/).map(Number);
    copy.setAttribute('x', String(left));
    copy.setAttribute('width', String(w));
    copy.setAttribute('height', String(h));
    left += w;
    height = Math.max(height, h);
    parts.push(new XMLSerializer().serializeToString(copy));
  }
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${left}" height="${height}" viewBox="0 0 ${left} ${height}" role="img"><title>${escaped(title)}</title><rect width="100%" height="100%" fill="${ground}"/>${parts.join('')}</svg>\n`;
}

/** One CSV cell, quoted where it must be. */
export function csvCell(value: string | number | boolean): string {
  const text = String(value);
  return /[",\n\r]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
