/**
 * Emitter and inlet in section, to scale: where the tip stands, where it goes next (arrow), where readings were taken, and how
 * far the best point is from its edges (lengths). The emitter's body is drawn as a common one; nothing is computed from it.
 */
import { type Mark, type Picture, px, roundStep, words } from '../picture.ts';
import { readingMark } from './reading-mark.ts';
import type { Advice, Margin, SettlePoint, SettleSession } from './session.ts';

export type LateralAxis = 'lateral_x_mm' | 'lateral_y_mm';

/** Drawn body: shank and tip radius, taper (mm). */
const SHANK = 0.18;
const TIP = 0.02;
const TAPER = 0.9;
const STUB = 1.1;
/** Drawn inlet: its mouth and how far its cone falls back (mm). */
const MOUTH = 0.25;
const CONE = 0.8;
const FACE = 1.1;
const EDGE_PX = 18;
const HEAD_PX = 34;
const FOOT_PX = 40;
const LEAST_HEIGHT = 210;
const MOST_HEIGHT = 420;
/** A move shorter than this on the page is named beside the tip, not drawn as an arrow. */
const LEAST_ARROW_PX = 10;

export function sectionPicture(
  session: SettleSession,
  advice: Advice,
  width: number,
  lateral: LateralAxis = 'lateral_x_mm',
): Picture {
  const now = session.readings.at(-1)?.at ?? session.start;
  const points = [
    now,
    advice.to,
    ...session.readings.map((r) => r.at),
    ...(advice.best ? [advice.best.at] : []),
  ];
  const limits = session.axes.distance_mm;
  const side = session.axes[lateral];
  const far = 1.08 * Math.max(0.5, ...points.map((p) => p.distance_mm), ...(limits ? [limits.high] : []));
  const lateralMost =
    0.25 + Math.max(0.6, ...points.map((p) => Math.abs(p[lateral])), ...(side ? [-side.low, side.high] : []));
  const scale = Math.min(
    (width - 2 * EDGE_PX) / (far + STUB + CONE),
    (MOST_HEIGHT - HEAD_PX - FOOT_PX) / (2 * lateralMost),
  );
  const height = Math.max(LEAST_HEIGHT, 2 * lateralMost * scale + HEAD_PX + FOOT_PX);
  const inlet = { x: width - EDGE_PX - CONE * scale, y: HEAD_PX + (height - HEAD_PX - FOOT_PX) / 2 };
  const place = (p: SettlePoint) => ({ x: inlet.x - p.distance_mm * scale, y: inlet.y - p[lateral] * scale });
  const marks: Mark[] = [
    {
      shape: 'path',
      at: {
        d: `M${EDGE_PX} ${px(inlet.y)}H${px(width - EDGE_PX)}`,
        class: 'd-dim',
        'stroke-dasharray': '12 4 2 4',
      },
    },
    ...inletMarks(inlet, scale),
    ...session.readings.map((reading, k) => readingMark(reading, place(reading.at), k, advice.taken[k])),
    body(place(now), now.angle_deg, scale, 'd-solid'),
  ];
  if (advice.best) marks.push(...marginMarks(advice.best.margins, place(advice.best.at), scale, lateral));
  marks.push(...moveMarks(now, advice, place, scale, lateral));
  marks.push(...scaleBar(scale, height), words(EDGE_PX, 20, titleOf(lateral), { class: 'd-text-soft' }));
  return { width, height, title: `${titleOf(lateral)}. ${advice.sentence}`, marks };
}

function titleOf(lateral: LateralAxis): string {
  return lateral === 'lateral_x_mm'
    ? 'Seen from above, to scale; x grows upwards'
    : 'Seen from the side, to scale; y grows upwards';
}

function inletMarks({ x, y }: { x: number; y: number }, scale: number): Mark[] {
  const half = (up: 1 | -1) =>
    `M${px(x)} ${px(y - up * MOUTH * scale)}L${px(x + CONE * scale)} ${px(y - up * FACE * scale)}V${px(y - up * (FACE + 0.15) * scale)}L${px(x - 0.04 * scale)} ${px(y - up * (MOUTH + 0.06) * scale)}Z`;
  return [
    { shape: 'path', at: { d: half(1) + half(-1), class: 'd-solid' }, tip: 'inlet, drawn as a common one' },
    words(x + CONE * scale, y + (FACE + 0.15) * scale + 18, 'inlet', {
      class: 'd-text-soft',
      'text-anchor': 'end',
    }),
  ];
}

/** The glass with its taper; the angle turns it about the tip. */
function body(
  tip: { x: number; y: number },
  angle_deg: number,
  scale: number,
  name: string,
  more: Record<string, string> = {},
): Mark {
  const [a, b, t, s] = [SHANK * scale, TIP * scale, TAPER * scale, STUB * scale];
  const d = `M${px(tip.x)} ${px(tip.y - b)}L${px(tip.x - t)} ${px(tip.y - a)}H${px(tip.x - s)}V${px(tip.y + a)}H${px(tip.x - t)}L${px(tip.x)} ${px(tip.y + b)}Z`;
  return {
    shape: 'path',
    at: { d, class: name, transform: `rotate(${-angle_deg} ${px(tip.x)} ${px(tip.y)})`, ...more },
  };
}

function moveMarks(
  now: SettlePoint,
  advice: Advice,
  place: (p: SettlePoint) => { x: number; y: number },
  scale: number,
  lateral: LateralAxis,
): Mark[] {
  const [from, to] = [place(now), place(advice.to)];
  const turned = now.angle_deg !== advice.to.angle_deg;
  const [dx, dy] = [to.x - from.x, to.y - from.y];
  const long = Math.hypot(dx, dy);
  const marks: Mark[] = [];
  if (long > 0.5 || turned) marks.push(body(to, advice.to.angle_deg, scale, 'd-composed', { fill: 'none' }));
  if (long >= LEAST_ARROW_PX) {
    const [ux, uy] = [dx / long, dy / long];
    const wing = (turn: number) =>
      `L${px(to.x - 11 * (ux * Math.cos(turn) - uy * Math.sin(turn)))} ${px(to.y - 11 * (uy * Math.cos(turn) + ux * Math.sin(turn)))}`;
    marks.push({
      shape: 'path',
      at: {
        d: `M${px(from.x)} ${px(from.y)}L${px(to.x)} ${px(to.y)}${wing(0.45)}M${px(to.x)} ${px(to.y)}${wing(-0.45)}`,
        class: 'd-ink',
        'stroke-width': 2.4,
      },
    });
  }
  const said = moveWords(now, advice.to, lateral);
  if (said !== '') marks.push(words(EDGE_PX, HEAD_PX + 8, `next: ${said}`, { class: 'd-text d-halo' }));
  return marks;
}

function moveWords(now: SettlePoint, to: SettlePoint, lateral: LateralAxis): string {
  const parts: string[] = [];
  const mm = (value: number) => `${Number(Math.abs(value).toFixed(3))} mm`;
  const nearer = now.distance_mm - to.distance_mm;
  if (nearer !== 0) parts.push(`${mm(nearer)} ${nearer > 0 ? 'nearer' : 'back'}`);
  if (to[lateral] !== now[lateral])
    parts.push(`${lateral === 'lateral_x_mm' ? 'x' : 'y'} to ${Number(to[lateral].toFixed(3))} mm`);
  const turn = to.angle_deg - now.angle_deg;
  if (turn !== 0) parts.push(`turn to ${to.angle_deg}°`);
  const volts = to.voltage_V - now.voltage_V;
  if (volts !== 0) parts.push(`${Math.abs(volts)} V ${volts > 0 ? 'more' : 'less'}`);
  return parts.join(', ');
}

/** The margins of the best point as lengths with their numbers. */
function marginMarks(
  margins: readonly Margin[],
  at: { x: number; y: number },
  scale: number,
  lateral: LateralAxis,
): Mark[] {
  const marks: Mark[] = [
    { shape: 'circle', at: { cx: px(at.x), cy: px(at.y), r: 9, class: 'd-ink' }, tip: 'best point so far' },
  ];
  for (const margin of margins) {
    const [down, up] = [margin.down, margin.up].map((um) => (um / 1000) * scale) as [number, number];
    const text = `${Math.round(margin.down)} and ${Math.round(margin.up)} µm`;
    if (margin.axis === 'distance_mm') {
      const y = at.y + SHANK * scale + 16;
      marks.push(dimension(at.x - up, y, at.x + down, y));
      marks.push(
        words(at.x, y + 18, `${text} of distance`, { class: 'd-text-soft d-halo', 'text-anchor': 'middle' }),
      );
    } else if (margin.axis === lateral) {
      const x = at.x + 16;
      marks.push(dimension(x, at.y - up, x, at.y + down));
      marks.push(words(x + 8, at.y - 14, `${text} aside`, { class: 'd-text-soft d-halo' }));
    }
  }
  return marks;
}

function dimension(x1: number, y1: number, x2: number, y2: number): Mark {
  const level = Math.abs(x2 - x1) >= Math.abs(y2 - y1);
  const end = (x: number, y: number) => (level ? `M${px(x)} ${px(y - 5)}v10` : `M${px(x - 5)} ${px(y)}h10`);
  return {
    shape: 'path',
    at: { d: `M${px(x1)} ${px(y1)}L${px(x2)} ${px(y2)}${end(x1, y1)}${end(x2, y2)}`, class: 'd-dim' },
  };
}

function scaleBar(scale: number, height: number): Mark[] {
  const length = roundStep(70 / scale);
  const y = height - 14;
  return [
    dimension(EDGE_PX, y, EDGE_PX + length * scale, y),
    words(EDGE_PX + length * scale + 10, y + 5, `${length} mm`, { class: 'd-text-soft' }),
  ];
}
