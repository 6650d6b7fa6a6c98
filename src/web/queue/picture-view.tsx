/** A drawing of marks as an SVG on the page, its title as its name. */
import { createElement } from 'react';
import type { Mark, Picture } from '../../evidence/queue/picture.ts';
import { Hatch } from '../plan/drawing.tsx';

export function PictureView({ picture }: { picture: Picture }) {
  const { width, height, title, marks } = picture;
  return (
    <svg
      className="queue-picture"
      width={width}
      height={height}
      viewBox={`0 0 ${width} ${height}`}
      role="img"
      aria-label={title}
    >
      <defs>
        <Hatch id="q-kept" className="d-hatch" angle={-45} step={7} />
        <Hatch id="q-event" className="d-hatch-solid" angle={45} step={6} />
        <pattern id="q-dots" width={8} height={8} patternUnits="userSpaceOnUse">
          <circle className="d-glyph" cx={2} cy={2} r={1.3} />
          <circle className="d-glyph" cx={6} cy={6} r={1.3} />
        </pattern>
      </defs>
      {marks.map((mark, i) => drawn(mark, i))}
    </svg>
  );
}

function drawn({ shape, at, text, tip }: Mark, key: number) {
  const attributes = Object.entries(at).map(([name, value]) => [reactName(name), value]);
  const inner = [
    ...(tip === undefined ? [] : [createElement('title', { key: 'tip' }, tip)]),
    ...(text === undefined ? [] : [text]),
  ];
  return createElement(shape, { key, ...Object.fromEntries(attributes) }, ...inner);
}

function reactName(name: string): string {
  if (name === 'class') return 'className';
  return name.replace(/-([a-z])/g, (_, letter: string) => letter.toUpperCase());
}
