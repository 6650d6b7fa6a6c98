/** The trace as a picture that stands alone: what the page shows in this span, in black on white, for reports. */

import { escaped } from '../../core/picture.ts';
import type { RunReading } from '../../evidence/run-reading.ts';
import { decimate, type Span } from '../decimate.ts';
import { eventMarks, markLabelX, scaleX, trustMarks } from './marks.ts';
import { type LevelScale, levelRange, levelTicks, penLifts, timeTicks } from './trace-data.ts';

const size = { width: 1100, height: 460, left: 92, right: 16, top: 74, bottom: 96 };

/** Room for the strip of the method's phases, and for one letter in it [px]. */
const PHASES_HEIGHT = 36;
const LETTER_PX = 8;

export function traceSvg(reading: RunReading, group: number, scale: LevelScale, span: Span): string {
  const g = reading.groups[group];
  const inner = { width: size.width - size.left - size.right, height: size.height - size.top - size.bottom };
  const thin = decimate(g?.series.time_s ?? [], scale.drawn, span, inner.width, penLifts(reading, group));
  const [low, high] = levelRange(scale.mode, thin.low, thin.high);
  const x = scaleX(span, inner.width);
  const y = (level: number) => inner.height * (1 - (level - low) / (high - low));
  const text = (tx: number, ty: number, words: string, anchor = 'start') =>
    `<text x="${round(tx)}" y="${round(ty)}" text-anchor="${anchor}">${escaped(words)}</text>`;
  const parts: string[] = [];
  for (const tick of levelTicks(scale.mode, low, high, 6)) {
    parts.push(
      `<path d="M0 ${round(y(tick.at))}H${inner.width}" stroke="#ccc"/>`,
      text(-8, y(tick.at) + 5, tick.label, 'end'),
    );
  }
  for (const tick of timeTicks(span, 9)) {
    parts.push(`<path d="M${round(x(tick.at))} 0V${inner.height}" stroke="#ccc"/>`);
    parts.push(text(x(tick.at), inner.height + 20, `${tick.label} min`, 'middle'));
  }
  for (const mark of eventMarks(reading, group, span, inner.width)) {
    parts.push(
      `<rect x="${round(mark.x1)}" y="0" width="${round(mark.x2 - mark.x1)}" height="${inner.height}" fill="url(#event)"/>`,
      `<path d="${mark.glyph}" transform="translate(0 -17)" stroke="#111" stroke-width="2" fill="${mark.filled ? '#111' : 'none'}"/>`,
    );
    if (mark.label) parts.push(text(markLabelX(mark, inner.width), -22, mark.label, 'middle'));
  }
  parts.push(
    `<g clip-path="url(#plot)"><path d="${linePath(thin, x, y)}" fill="none" stroke="#0b5563" stroke-width="1.2"/></g>`,
  );
  for (const mark of trustMarks(reading, group, span, inner.width)) {
    const top = inner.height + 34;
    parts.push(
      `<path d="M${round(mark.x1)} ${top}v26H${round(mark.x2)}v-26" fill="url(#trust)" stroke="#111"/>`,
    );
    if (mark.label) parts.push(text((mark.x1 + mark.x2) / 2, top + 18, mark.label, 'middle'));
  }
  const phases = (reading.method?.phases ?? []).filter(
    ({ start_s, end_s }) => end_s > span.from && start_s < span.to,
  );
  for (const phase of phases) {
    const [left, right] = [x(Math.max(phase.start_s, span.from)), x(Math.min(phase.end_s, span.to))];
    const top = inner.height + 70;
    parts.push(`<path d="M${round(left)} ${top}v26H${round(right)}v-26" fill="none" stroke="#111"/>`);
    if (phase.name.length * LETTER_PX <= right - left)
      parts.push(text((left + right) / 2, top + 18, phase.name, 'middle'));
  }
  const height = size.height + (phases.length > 0 ? PHASES_HEIGHT : 0);
  const invented = reading.invented
    ? text(size.width - size.left - size.right, -52, 'INVENTED DATA', 'end')
    : '';
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${size.width}" height="${height}" viewBox="0 0 ${size.width} ${height}" font-family="Arial, sans-serif" font-size="14" fill="#111">
<title>${escaped(`${scale.words}: ${reading.verdict.sentence}`)}</title>
<defs><clipPath id="plot"><rect width="${inner.width}" height="${inner.height}"/></clipPath>
<pattern id="event" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path d="M0 0V7" stroke="#7a4312" stroke-width="1.2"/></pattern>
<pattern id="trust" width="10" height="10" patternUnits="userSpaceOnUse" patternTransform="rotate(-45)"><path d="M0 0V10" stroke="#9cc" stroke-width="1"/></pattern></defs>
<rect width="100%" height="100%" fill="#fff"/>
<g transform="translate(${size.left} ${size.top})">${text(-size.left + 8, -52, scale.words)}${invented}${parts.join('')}</g>
</svg>
`;
}

function linePath(
  thin: { x: readonly number[]; y: readonly (number | null)[] },
  x: (seconds: number) => number,
  y: (level: number) => number,
): string {
  let path = '';
  let pen = 'M';
  thin.x.forEach((seconds, i) => {
    const level = thin.y[i];
    if (level === null || level === undefined) {
      pen = 'M';
      return;
    }
    path += `${pen}${round(x(seconds))} ${round(y(level))}`;
    pen = 'L';
  });
  return path;
}

function round(value: number): number {
  return Math.round(value * 100) / 100;
}
