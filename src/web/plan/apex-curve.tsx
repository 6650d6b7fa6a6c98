/**
 * Apex height against voltage up to the turning point; the voltage of the picture is chosen on it. Above the turn no static
 * shape exists: the grip leaves the curve and runs along the dashed line.
 */
import type { Plan } from '../../core/plan/plan.ts';
import { niceAbove } from '../nice.ts';
import { figure, withUnit } from '../words.ts';
import { useDrag } from './drag.ts';
import { Handle } from './handle.tsx';

const margin = { left: 52, right: 18, top: 18, bottom: 46 };
const STEP_V = 10;
const NOT_SOLVED: Record<Plan['meniscus']['kind'], string> = {
  solved: '',
  'no equilibrium': 'no curve: no equilibrium exists',
  'solver failed': 'no curve: the solver failed; the onset is the closed formula’s',
};

export interface ApexCurveProps {
  plan: Plan;
  /** Onset of the liquid that is shown, where the gradient slider moved it. */
  onset_V: number;
  volts: number;
  onVolts: (volts: number) => void;
  /** Why the curve is not of the values on the page; drawn grey with these words. */
  pending?: string | undefined;
  width: number;
  height: number;
}

export function ApexCurve({ plan, onset_V, volts, onVolts, pending, width, height }: ApexCurveProps) {
  const { meniscus } = plan;
  const solved = meniscus.kind === 'solved' ? meniscus : undefined;
  const scale = solved ? onset_V / solved.onset_V : 1;
  const points = curveToTurn(plan);
  const top = solved?.onset_apex_height_um ?? 1;
  const low = Math.min(0, ...points.map(({ apex_height_um }) => apex_height_um));
  const most = Math.max(plan.window.several_jets_V.high * scale, onset_V * 1.3);
  const x = (v: number) => margin.left + (v / most) * (width - margin.left - margin.right);
  const y = (h: number) =>
    height - margin.bottom - ((h - low) / (1.25 * top - low)) * (height - margin.top - margin.bottom);
  const at = Math.min(Math.max(volts, 0), most);
  const grip = { x: x(at), y: at <= onset_V ? y(heightAt(points, at / scale)) : y(top) };
  const choose = (v: number) => onVolts(Math.round(Math.min(most, Math.max(0, v))));
  const drag = useDrag(
    ({ x: px }) => choose(((px - margin.left) / (width - margin.left - margin.right)) * most),
    (steps) => choose(at + steps * STEP_V),
  );
  const step = niceAbove(most / Math.max(3, width / 110));
  const ticks = Array.from({ length: Math.floor(most / step) + 1 }, (_, k) => k * step);
  const line = points
    .map(
      ({ tip_V, apex_height_um }, k) =>
        `${k === 0 ? 'M' : 'L'}${x(tip_V * scale).toFixed(1)} ${y(apex_height_um).toFixed(1)}`,
    )
    .join('');
  const text = `${figure(at)} V, ${at <= onset_V ? 'below onset' : 'above onset: no static shape'}`;
  return (
    <svg viewBox={`0 0 ${width} ${height}`} data-view="apex-curve">
      <title>Apex height against tip voltage</title>
      <path
        className="d-dim"
        d={`M${margin.left} ${margin.top}V${height - margin.bottom}H${width - margin.right}`}
        fill="none"
      />
      {ticks.map((v) => (
        <g key={v}>
          <line
            className="d-dim"
            x1={x(v)}
            y1={height - margin.bottom}
            x2={x(v)}
            y2={height - margin.bottom + 6}
          />
          <text className="d-text-soft" x={x(v)} y={height - margin.bottom + 22} textAnchor="middle">
            {figure(v, 4).replace(/\.0+$/, '')}
          </text>
        </g>
      ))}
      <text className="d-text-soft" x={width - margin.right} y={height - 6} textAnchor="end">
        volts at the tip
      </text>
      <text className="d-text-soft" x={margin.left + 6} y={margin.top + 4}>
        {solved ? `apex, µm (turn: ${figure(top)})` : NOT_SOLVED[meniscus.kind]}
      </text>
      {pending !== undefined && (
        <text className="d-text" x={width - margin.right} y={margin.top + 4} textAnchor="end">
          {pending}
        </text>
      )}
      <g style={pending === undefined ? undefined : { opacity: 0.6, filter: 'grayscale(1)' }}>
        {solved && <path className="d-trace" d={line} />}
        <line className="d-composed" x1={x(onset_V)} y1={y(top)} x2={width - margin.right} y2={y(top)} />
      </g>
      <line
        className="d-dim"
        x1={x(onset_V)}
        y1={y(top)}
        x2={x(onset_V)}
        y2={height - margin.bottom}
        strokeDasharray="3 3"
      />
      <text className="d-text d-halo" x={x(onset_V) + 8} y={height - margin.bottom - 10}>
        {solved ? 'turns at' : 'onset about'} {withUnit(figure(onset_V), 'V')}
      </text>
      <Handle
        x={grip.x}
        y={grip.y}
        label="Tip voltage of the picture"
        value={Math.round(at)}
        low={0}
        high={Math.round(most)}
        text={text}
        drag={drag}
      />
    </svg>
  );
}

/** From no voltage up to the turning point, at the plan's own composition. */
export function curveToTurn({ meniscus }: Plan): readonly { tip_V: number; apex_height_um: number }[] {
  if (meniscus.kind !== 'solved') return [];
  return meniscus.curve.filter(
    ({ apex_height_um }) => apex_height_um <= meniscus.onset_apex_height_um * TURN_ROUNDING,
  );
}
/** The turn's own height, found between two members, may differ from theirs by rounding. */
const TURN_ROUNDING = 1.001;

function heightAt(points: readonly { tip_V: number; apex_height_um: number }[], V: number): number {
  for (let k = 1; k < points.length; k++) {
    const [a, b] = [points[k - 1]!, points[k]!];
    if (V <= b.tip_V)
      return (
        a.apex_height_um +
        ((b.apex_height_um - a.apex_height_um) * (V - a.tip_V)) / Math.max(1e-9, b.tip_V - a.tip_V)
      );
  }
  return points.at(-1)?.apex_height_um ?? 0;
}
