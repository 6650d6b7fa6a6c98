/** The committed gallery is what its script makes, sheet by sheet, and each sheet shows the regime that its title says. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { pictureSvg } from '../../src/core/picture.ts';
import { CASES } from '../../tools/gallery/cases.ts';
import { galleryText } from '../../tools/gallery/document.ts';
import { galleryFigure } from '../../tools/gallery/figure.ts';

const docs = join(import.meta.dirname, '..', '..', 'docs');

describe('the gallery', () => {
  it.each(CASES.map((one) => [one.id, one] as const))('%s is as made', (id, one) => {
    const made = pictureSvg(galleryFigure(one));
    expect(made).not.toMatch(/NaN|Infinity|undefined/);
    expect(made).toContain('invented');
    expect(made === readFileSync(join(docs, 'gallery', `${id}.svg`), 'utf8')).toBe(true);
  });

  it('holds no other sheets, and its captions stand in the document', () => {
    expect(readdirSync(join(docs, 'gallery')).sort()).toEqual(CASES.map(({ id }) => `${id}.svg`).sort());
    expect(readFileSync(join(docs, 'reading-current.md'), 'utf8')).toContain(galleryText());
  });
});
