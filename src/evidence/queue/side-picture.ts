/** What stands beside the level of a run, over the same span: the phases of the method and the traces of pressure and flow. */
import type { MethodPhase, RunReading, SideTrace } from '../run-reading.ts';
import { capital, timeText } from '../words.ts';
import { type Mark, type Picture, px, words } from './picture.ts';

/** As the picture of the spray, so that both stand under each other in one time. */
const frame = { left: 84, right: 28 };
const PHASES = { top: 30, height: 30, below: 14 };
const TRACE = { top: 30, height: 62, below: 14 };
/** Width of one letter, a little generous [px]. */
const LETTER_PX = 7.5;

/** Words for a phase too narrow for its name. */
const SHORT: Record<MethodPhase['name'], string> = {
  'injection and dead time': 'inject',
  elution: 'elution',
  wash: 'wash',
  're-equilibration': 're-eq.',
  'other flow': 'flow',
};

/** Undefined where the reading holds neither. */
export function sidePicture(
  reading: Pick<RunReading, 'method' | 'traces'>,
  span: { from_s: number; to_s: number },
  width: number,
): Picture | undefined {
  const phases = reading.method?.phases ?? [];
  const traces = reading.traces ?? [];
  if (phases.length === 0 && traces.length === 0) return undefined;
  const inner = Math.max(50, width - frame.left - frame.right);
  const x = (time_s: number) => frame.left + ((time_s - span.from_s) / (span.to_s - span.from_s)) * inner;
  const marks: Mark[] = [];
  let top = 0;
  if (phases.length > 0) {
    marks.push(words(6, top + 20, 'Phases of the method'), ...phaseMarks(phases, span, top + PHASES.top, x));
    top += PHASES.top + PHASES.height + PHASES.below;
  }
  for (const trace of traces) {
    marks.push(...traceMarks(trace, span, top, inner, x));
    top += TRACE.top + TRACE.height + TRACE.below;
  }
  const title = [
    ...(phases.length > 0
      ? [
          `Phases of the method: ${phases.map((p) => `${p.name} ${timeText(p.start_s)} to ${timeText(p.end_s)}`).join(', ')}.`,
        ]
      : []),
    ...traces.map(({ sentence }) => sentence),
  ].join(' ');
  return { width, height: top, title, marks };
}

/** Over the span of the group that carries the verdict. */
export function runSidePicture(reading: RunReading, width: number): Picture | undefined {
  const group = reading.groups[reading.main_group];
  if (!group || !(group.end_s > group.start_s)) return undefined;
  return sidePicture(reading, { from_s: group.start_s, to_s: group.end_s }, width);
}

function phaseMarks(
  phases: NonNullable<RunReading['method']>['phases'],
  span: { from_s: number; to_s: number },
  top: number,
  x: (time_s: number) => number,
): Mark[] {
  return phases
    .filter(({ start_s, end_s }) => end_s > span.from_s && start_s < span.to_s)
    .flatMap(({ name, start_s, end_s, sentence }) => {
      const left = x(Math.max(start_s, span.from_s));
      const wide = Math.max(2, x(Math.min(end_s, span.to_s)) - left);
      const box = { x: px(left), y: top, width: px(wide), height: PHASES.height };
      const marks: Mark[] = [];
      // The elution is what is judged: only what is left out of the verdict is dotted.
      if (name !== 'elution')
        marks.push({ shape: 'rect', at: { ...box, fill: 'url(#q-dots)', 'fill-opacity': 0.35 } });
      marks.push({ shape: 'rect', at: { ...box, class: 'd-ink', 'fill-opacity': 0 }, tip: sentence });
      const label = [name, SHORT[name]].find((one) => one.length * LETTER_PX + 12 <= wide);
      if (label !== undefined)
        marks.push(
          words(left + wide / 2, top + 20, label, { class: 'd-text d-halo', 'text-anchor': 'middle' }),
        );
      return marks;
    });
}

function traceMarks(
  trace: SideTrace,
  span: { from_s: number; to_s: number },
  top: number,
  inner: number,
  x: (time_s: number) => number,
): Mark[] {
  const unit = trace.unit === '' ? 'unit not stated' : trace.unit;
  const marks: Mark[] = [words(6, top + 20, `${capital(trace.name)}, ${unit}`)];
  const room = 0.08 * (trace.high - trace.low || Math.abs(trace.high) || 1);
  const [low, high] = [trace.low - room, trace.high + room];
  const y = (value: number) => top + TRACE.top + (TRACE.height * (high - value)) / (high - low);
  for (const value of trace.high > trace.low ? [trace.low, trace.high] : [trace.high]) {
    marks.push(
      {
        shape: 'path',
        at: { d: `M${frame.left} ${px(y(value))}h${px(inner)}`, class: 'd-dim', 'stroke-opacity': 0.35 },
      },
      words(frame.left - 8, y(value) + 5, String(Number(value.toPrecision(3))), {
        class: 'd-text-soft',
        'text-anchor': 'end',
      }),
    );
  }
  const { time_s, value } = trace.series;
  let path = '';
  time_s.forEach((time, i) => {
    // One point beyond each edge would leave the frame.
    if (time < span.from_s || time > span.to_s) return;
    path += `${path === '' ? 'M' : 'L'}${px(x(time))} ${px(y(value[i]!))}`;
  });
  if (path !== '') marks.push({ shape: 'path', at: { d: path, class: 'd-trace' } });
  return marks;
}
