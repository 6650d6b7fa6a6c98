/** Paints the marks of a picture on a canvas in the page's own colours, so that canvas and exported SVG show the same. */
import type { Mark, Picture } from '../../core/picture.ts';

interface Style {
  fill?: string;
  stroke?: string;
  width?: number;
  dash?: number[];
  font?: string;
}

export function paint(canvas: HTMLCanvasElement, picture: Picture): void {
  const context = canvas.getContext('2d');
  if (!context) return;
  const dots = window.devicePixelRatio || 1;
  const [w, h] = [Math.round(picture.width * dots), Math.round(picture.height * dots)];
  if (canvas.width !== w || canvas.height !== h) {
    canvas.width = w;
    canvas.height = h;
  }
  const css = getComputedStyle(canvas);
  const colour = (name: string) => css.getPropertyValue(name).trim();
  const styles = stylesOf(colour);
  context.setTransform(dots, 0, 0, dots, 0, 0);
  context.clearRect(0, 0, picture.width, picture.height);
  for (const mark of picture.marks) paintMark(context, mark, styles, colour);
}

function stylesOf(colour: (name: string) => string): Record<string, Style> {
  const sans = '"Segoe UI", "Helvetica Neue", Arial, "Liberation Sans", sans-serif';
  return {
    'd-ink': { stroke: colour('--ink'), width: 1.2 },
    'd-dim': { stroke: colour('--ink-soft'), width: 1 },
    'd-solid': { fill: colour('--solid-pale'), stroke: colour('--solid'), width: 1.5 },
    'd-liquid': { fill: colour('--liquid-pale') },
    'd-composed': { stroke: colour('--liquid'), width: 1.6, dash: [7, 4] },
    'd-trace': { stroke: colour('--liquid'), width: 1.2 },
    'd-jet': { stroke: colour('--liquid') },
    'd-bar': { fill: colour('--ink') },
    'd-glyph': { fill: colour('--solid'), stroke: colour('--solid'), width: 1.5 },
    'd-text': { fill: colour('--ink'), font: `15px ${sans}` },
    'd-text-soft': { fill: colour('--ink-soft'), font: `14px ${sans}` },
  };
}

function paintMark(
  context: CanvasRenderingContext2D,
  { shape, at, text }: Mark,
  styles: Record<string, Style>,
  colour: (name: string) => string,
): void {
  const style = styles[String(at.class)] ?? {};
  const number = (name: string) => Number(at[name] ?? 0);
  if (shape === 'text') {
    context.font = style.font ?? '15px sans-serif';
    context.fillStyle = style.fill ?? colour('--ink');
    const anchor = at['text-anchor'];
    context.textAlign = anchor === 'end' ? 'right' : anchor === 'middle' ? 'center' : 'left';
    context.fillText(text ?? '', number('x'), number('y'));
    return;
  }
  const path =
    shape === 'path' ? new Path2D(String(at.d)) : shape === 'rect' ? rectPath(number) : circlePath(number);
  const fill = at.fill === undefined ? style.fill : fillOf(context, String(at.fill), colour);
  if (fill !== undefined && fill !== 'none') {
    context.fillStyle = fill;
    context.fill(path);
  }
  if (style.stroke === undefined) return;
  context.strokeStyle = style.stroke;
  context.lineWidth = at['stroke-width'] === undefined ? (style.width ?? 1) : number('stroke-width');
  const dash = at['stroke-dasharray'];
  context.setLineDash(dash === undefined ? (style.dash ?? []) : String(dash).split(' ').map(Number));
  context.lineJoin = 'round';
  context.stroke(path);
  context.setLineDash([]);
}

function rectPath(number: (name: string) => number): Path2D {
  const path = new Path2D();
  path.rect(number('x'), number('y'), number('width'), number('height'));
  return path;
}

function circlePath(number: (name: string) => number): Path2D {
  const path = new Path2D();
  path.arc(number('cx'), number('cy'), number('r'), 0, 2 * Math.PI);
  return path;
}

/** The hatchings that a standing picture has as patterns. */
function fillOf(
  context: CanvasRenderingContext2D,
  fill: string,
  colour: (name: string) => string,
): string | CanvasPattern {
  const hatch = fill === 'url(#q-kept)' ? '--liquid' : fill === 'url(#q-event)' ? '--solid' : undefined;
  if (hatch === undefined) return fill;
  const ink = colour(hatch);
  const key = `${fill} ${ink}`;
  const known = patterns.get(key);
  if (known) return known;
  const tile = document.createElement('canvas');
  const step = 8;
  tile.width = tile.height = step;
  const pen = tile.getContext('2d')!;
  pen.strokeStyle = ink;
  pen.lineWidth = 1.3;
  const down = fill === 'url(#q-event)';
  // Three strokes, so that the corners of neighbouring tiles join.
  for (const shift of [-step, 0, step]) {
    pen.moveTo(shift, down ? 0 : step);
    pen.lineTo(shift + step, down ? step : 0);
  }
  pen.stroke();
  const pattern = context.createPattern(tile, 'repeat')!;
  patterns.set(key, pattern);
  return pattern;
}
const patterns = new Map<string, CanvasPattern>();
