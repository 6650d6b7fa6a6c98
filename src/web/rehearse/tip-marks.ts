/**
 * The tip of the rehearsed bench in section, to scale with its scale bar: the emitter, the meniscus as the bench's picture has it
 * (solved: plain; composed: hatched and labelled), jets and drops. In a blind rehearsal the liquid is left out. The scale steps
 * by factors of two, so that it does not breathe with the meniscus.
 */
import { type Mark, type Picture, px, words } from '../../core/picture.ts';
import type { MeniscusPicture } from '../../rehearsal/index.ts';
import { niceBelow } from '../nice.ts';
import type { BenchStart } from './rehearse-worker.ts';

/** A jet thinner than this vanishes on a screen and is drawn at it [px]. */
const THINNEST_PX = 1;

/** Room of the title, and of a letter. */
const TITLE_PX = 150;
const LETTER_PX = 7.5;

export interface TipMarks {
  picture: Picture;
  /** Drawn over true width of the jet. */
  jetDrawn: number;
}

export function tipMarks(
  start: BenchStart,
  meniscus: MeniscusPicture | undefined,
  width: number,
  height: number,
): TipMarks {
  const rim = (meniscus === undefined ? start.stated_rim_um : start.rim_um) / 2;
  const bore = start.bore_um / 2;
  const contact = meniscus?.r_um.at(-1) ?? rim;
  const reach = Math.max(rim, contact, (meniscus?.drop_um ?? 0) * 1.1);
  // Room for the sound rim first; twice, four times … as much where the liquid needs it.
  const zoomOut = 2 ** Math.max(0, Math.ceil(Math.log2(reach / (1.25 * rim))));
  const half = 2.3 * rim * zoomOut;
  const perUm = Math.min((height - 76) / (2 * half), (width - 24) / (9 * rim * zoomOut));
  const tipX = width * 0.42;
  const midY = 34 + (height - 76) / 2;
  const xAt = (um: number) => tipX + um * perUm;
  const yAt = (um: number) => midY - um * perUm;
  const slope = Math.tan((start.taper_deg * Math.PI) / 180);
  const back = tipX / perUm;
  const marks: Mark[] = [];
  const closed = (points: readonly (readonly [number, number])[], at: Mark['at']) =>
    marks.push({ shape: 'path', at: { d: `${line(points.map(([x, y]) => [xAt(x), yAt(y)]))}Z`, ...at } });

  const dry = meniscus?.kind === 'empty';
  closed(
    [
      [-back, bore],
      [dry ? -bore : 0, bore],
      [dry ? -bore : 0, -bore],
      [-back, -bore],
    ],
    {
      class: 'd-liquid',
    },
  );
  for (const side of [1, -1]) {
    const wall = [
      [0, side * bore],
      [0, side * rim],
      [-back, side * (rim + slope * back)],
      [-back, side * bore],
    ] as const;
    closed(wall, { class: 'd-solid' });
    closed(wall, { class: 'd-solid', fill: 'url(#q-event)' });
  }
  if (contact > 1.05 * rim && meniscus !== undefined && meniscus.kind !== 'drop') {
    // The liquid that has crept up the outside, back to where the taper is as wide as the contact line, at most so far.
    const wet = Math.min(back, 2.5 * contact, (contact - rim) / Math.max(slope, 1e-3));
    for (const side of [1, -1])
      closed(
        [
          [0, side * rim],
          [0, side * contact],
          [-wet, side * (rim + slope * wet)],
        ],
        { class: 'd-composed', fill: 'url(#q-kept)' },
      );
  }
  const jet_px = (meniscus?.jet_um ?? 0) * perUm;
  const jetDrawn = jet_px > 0 && jet_px < THINNEST_PX ? THINNEST_PX / jet_px : 1;
  const label =
    meniscus === undefined ? 'meniscus hidden' : liquidMarks(meniscus, marks, closed, xAt, yAt, width);
  const bar = niceBelow(Math.min(140, width / 3) / perUm);
  marks.push(words(12, 24, 'Tip, in section', { 'font-weight': 700 }));
  // On a narrow screen what is drawn stands below the title.
  const beside = width > TITLE_PX + LETTER_PX * label.length;
  marks.push(
    words(beside ? width - 12 : 12, beside ? 24 : 44, label, beside ? { 'text-anchor': 'end' } : {}),
  );
  marks.push({
    shape: 'rect',
    at: { x: 12, y: px(height - 14), width: px(bar * perUm), height: 5, class: 'd-bar' },
  });
  marks.push(words(12, height - 21, `${Number(bar.toPrecision(1))} µm`));
  return { picture: { width, height, title: `Tip of the rehearsed emitter: ${label}`, marks }, jetDrawn };
}

type Closed = (points: readonly (readonly [number, number])[], at: Mark['at']) => void;

function liquidMarks(
  meniscus: MeniscusPicture,
  marks: Mark[],
  closed: Closed,
  xAt: (um: number) => number,
  yAt: (um: number) => number,
  width: number,
): string {
  const { kind, r_um, z_um, jets_deg } = meniscus;
  if (kind === 'empty') return 'no liquid at the face';
  const hatched = { class: 'd-composed', fill: 'url(#q-kept)' };
  if (kind === 'drop') {
    const r = meniscus.drop_um;
    marks.push({
      shape: 'circle',
      at: { cx: px(xAt(0.9 * r)), cy: px(yAt(0)), r: px(xAt(r) - xAt(0)), ...hatched },
    });
    return 'hanging drop: composed, not solved';
  }
  const contact = r_um.at(-1)!;
  const apex = z_um[0]!;
  if (jets_deg.length > 1) {
    const cones: [number, number][] = [[0, contact]];
    const at = (deg: number, long: number): [number, number] => {
      const angle = (deg * Math.PI) / 180;
      return [long * Math.cos(angle), long * Math.sin(angle)];
    };
    const order = [...jets_deg].sort((a, b) => b - a);
    order.forEach((deg, k) => {
      if (k > 0) cones.push(at((deg + order[k - 1]!) / 2, 0.62 * apex));
      cones.push(at(deg, apex));
    });
    cones.push([0, -contact]);
    closed(cones, hatched);
    for (const deg of order) jetMarks(marks, at(deg, apex), deg, xAt, yAt, width);
    return `${jets_deg.length} jets: composed, not solved`;
  }
  const lean = Math.tan(((jets_deg[0] ?? 0) * Math.PI) / 180);
  const up = r_um.map((r, k): [number, number] => [z_um[k]!, r + lean * z_um[k]!]).reverse();
  const down = r_um.map((r, k): [number, number] => [z_um[k]!, -r + lean * z_um[k]!]);
  const outline = [...up, ...down];
  if (kind === 'solved') {
    closed(outline, { class: 'd-liquid' });
    closed(outline, { class: 'd-trace' });
    return 'meniscus solved';
  }
  closed(outline, hatched);
  for (const deg of jets_deg) jetMarks(marks, [apex, lean * apex], deg, xAt, yAt, width);
  return 'composed, not solved';
}

/** A thread, then droplets. */
function jetMarks(
  marks: Mark[],
  [x, y]: readonly [number, number],
  deg: number,
  xAt: (um: number) => number,
  yAt: (um: number) => number,
  width: number,
): void {
  const [fromX, fromY] = [xAt(x), yAt(y)];
  const turn = Math.tan((deg * Math.PI) / 180);
  const to = (share: number): [number, number] => {
    const long = (width - 8 - fromX) * share;
    return [fromX + long, fromY - turn * long];
  };
  marks.push({
    shape: 'path',
    at: { class: 'd-jet', 'stroke-width': 1.6, d: line([[fromX, fromY], to(0.45)]) },
  });
  marks.push({
    shape: 'path',
    at: { class: 'd-jet', 'stroke-width': 1.8, 'stroke-dasharray': '2 7', d: line([to(0.45), to(1)]) },
  });
}

function line(points: readonly (readonly [number, number])[]): string {
  return points.map(([x, y], k) => `${k === 0 ? 'M' : 'L'}${px(x)} ${px(y)}`).join('');
}
