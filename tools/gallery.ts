// `node --import tsx tools/gallery.ts`: writes docs/gallery/*.svg and the Gallery section of docs/reading-current.md.
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { pictureSvg } from '../src/core/picture.ts';
import { CASES } from './gallery/cases.ts';
import { withGallery } from './gallery/document.ts';
import { galleryFigure } from './gallery/figure.ts';

const docs = join(import.meta.dirname, '..', 'docs');
const only = process.argv[2];
for (const one of CASES)
  if (only === undefined || only === one.id)
    writeFileSync(join(docs, 'gallery', `${one.id}.svg`), pictureSvg(galleryFigure(one)));
const page = join(docs, 'reading-current.md');
writeFileSync(page, withGallery(readFileSync(page, 'utf8')));
