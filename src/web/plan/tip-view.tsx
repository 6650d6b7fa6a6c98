/**
 * The tip to scale, in section, with one micrometre scale. Up to the turning point the meniscus is the solver's; above it no
 * static shape exists and a composed picture is drawn, hatched and labelled: the member past the turn with a cone and a jet of
 * the computed width. Where nothing is solved or the contact line lies outside the view, cone or cap alone are composed.
 * Behind the tip the bore widens with the outside, or runs straight: as the set-up says, else straight.
 */
import { useRef } from 'react';
import type { Outline } from '../../core/plan/index.ts';
import type { Plan } from '../../core/plan/plan.ts';
import type { Setup } from '../../core/setup.ts';
import { figure, given } from '../words.ts';
import { useDrag } from './drag.ts';
import { Hatch, type Point, pathOf, ScaleBar } from './drawing.tsx';
import { Handle } from './handle.tsx';
import { emitterOutline } from './outline.ts';

/** Half-angle of the conducting cone in equilibrium: G. I. Taylor 1964, Proc. R. Soc. A 280, 383 (from memory). */
const CONE_HALF_ANGLE_DEG = 49.3;
/** A line thinner than this vanishes on screens; a jet below it is drawn at it and the caption says so. */
const THINNEST_PX = 0.8;
/** A low cap below onset: height over contact radius, for the drawing only. */
const CAP_HEIGHT = 0.35;

const margin = { left: 12, right: 12, top: 40, bottom: 44 };

export interface TipShape {
  hasCone: boolean;
  /** Factor between the drawn and the true width of the jet, 1 where it is to scale. */
  jetDrawn: number;
  perUm: number;
}

export function tipShape(setup: Setup, plan: Plan | undefined, width: number, height: number): TipShape {
  const extent = tipExtent(setup);
  const perUm = Math.min(
    (width - margin.left - margin.right) / (extent.back + extent.front),
    (height - margin.top - margin.bottom) / (2 * extent.half),
  );
  const kind = plan?.electric_state.kind;
  const flows = plan !== undefined && plan.flow_nL_min.value >= plan.minimum_flow_nL_min.low;
  const hasCone = flows && (kind === 'cone-jet expected' || kind === 'above window');
  const jet_px = plan ? (plan.jet_diameter_nm.value / 1000) * perUm : 0;
  return { hasCone, perUm, jetDrawn: jet_px > 0 && jet_px < THINNEST_PX ? THINNEST_PX / jet_px : 1 };
}

export interface TipViewProps {
  setup: Setup;
  plan: Plan | undefined;
  /** The meniscus at the voltage that is looked at; absent: composed from the plan's state alone. */
  outline?: Outline | undefined;
  /** Values being dragged; absent: nothing can be dragged. */
  onRim?: (rim_um: number) => void;
  onTaper?: (half_angle_deg: number) => void;
  width: number;
  height: number;
}

export function TipView(props: TipViewProps) {
  const { setup, plan, width, height } = props;
  const { perUm, jetDrawn, ...shape } = tipShape(setup, plan, width, height);
  // A flooded shank's contact line lies outside this view: its outline cannot be shown here.
  const outline = setup.emitter.wets === 'shank' ? undefined : props.outline;
  const hasCone = outline === undefined ? shape.hasCone : outline.composed;
  const { emitter } = setup;
  const extent = tipExtent(setup);
  const contact = drawnContact_um(setup);
  const bore = emitter.bore_um / 2;
  const tipX =
    margin.left +
    (width - margin.left - margin.right - (extent.back + extent.front) * perUm) / 2 +
    extent.back * perUm;
  const midY = margin.top + (height - margin.top - margin.bottom) / 2;
  const at = (x: number, y: number): Point => ({ x: tipX + x * perUm, y: midY - y * perUm });
  const body = emitterOutline(emitter, extent.back / 1000).map((p) => ({
    x: -p.along * 1000,
    y: p.half * 1000,
  }));
  const widening = emitter.inside === 'widens' ? emitter.bore_um / emitter.rim_um : undefined;
  const inner = body.map((p) => ({ x: p.x, y: widening === undefined ? bore : widening * p.y }));
  const liquid = [...inner, ...inner.toReversed().map((p) => ({ x: p.x, y: -p.y }))];
  const walls = [1, -1].map((side) => [...body, ...inner.toReversed()].map((p) => at(p.x, side * p.y)));
  const jetHalf = plan ? (plan.jet_diameter_nm.value / 2000) * jetDrawn : 0;
  const coneLength = (contact - jetHalf) / Math.tan((CONE_HALF_ANGLE_DEG * Math.PI) / 180);
  const solved = outline !== undefined && !outline.composed;
  const drawnContact = outline === undefined ? contact : (outline.r_um.at(-1) ?? contact);
  const meniscus = outline
    ? pathOf([
        ...outline.r_um.map((r, k) => at(outline.z_um[k]!, r)).toReversed(),
        ...outline.r_um.map((r, k) => at(outline.z_um[k]!, -r)),
      ])
    : hasCone
      ? pathOf([at(0, contact), at(coneLength, jetHalf), at(coneLength, -jetHalf), at(0, -contact)])
      : capPath(at, contact);
  const jetEnd = at(extent.front, 0).x;
  const apex = outline?.composed ? outline.z_um[0]! : coneLength;
  const drawn = outline?.composed ? 2 * outline.r_um[0]! * jetDrawn : 2 * jetHalf;
  const film = emitter.wets === 'shank' ? body.map((p) => at(p.x, p.y + 0.06 * contact)) : [];
  return (
    <svg
      viewBox={`0 0 ${width} ${height}`}
      role={props.onRim ? 'group' : 'img'}
      aria-label={tipWords(setup, plan, outline)}
      data-view="tip"
      data-px-per-um={perUm}
    >
      <defs>
        <Hatch id="tip-section" className="d-hatch-solid" angle={45} step={9} />
        <Hatch id="tip-liquid" className="d-hatch" angle={-45} step={7} />
      </defs>
      <path className="d-liquid" d={pathOf(liquid.map((p) => at(p.x, p.y)))} />
      {walls.map((points, i) => (
        <g key={i === 0 ? 'above' : 'below'}>
          <path className="d-solid" d={pathOf(points)} />
          <path d={pathOf(points)} fill="url(#tip-section)" />
        </g>
      ))}
      {film.length > 0 && (
        <>
          <path className="d-composed" fill="none" d={pathOf(film, false)} />
          <path
            className="d-composed"
            fill="none"
            d={pathOf(
              film.map((p) => ({ x: p.x, y: 2 * midY - p.y })),
              false,
            )}
          />
        </>
      )}
      {solved ? (
        <>
          <path className="d-liquid" d={meniscus} />
          <path className="d-trace" d={meniscus} />
        </>
      ) : (
        <path className="d-composed" fill="url(#tip-liquid)" d={meniscus} />
      )}
      {hasCone && (
        <line
          className="d-jet"
          x1={at(apex, 0).x}
          y1={midY}
          x2={jetEnd}
          y2={midY}
          strokeWidth={Math.max(THINNEST_PX, drawn * perUm)}
        />
      )}
      <circle className="d-bar" cx={at(0, drawnContact).x} cy={at(0, drawnContact).y} r={3.5} />
      <circle className="d-bar" cx={at(0, -drawnContact).x} cy={at(0, -drawnContact).y} r={3.5} />
      <text className="d-text" x={margin.left} y={24}>
        <tspan fontWeight="700">A</tspan> Tip, in section
      </text>
      <text className="d-text" x={width - margin.right} y={24} textAnchor="end">
        {solved ? 'meniscus solved' : hasCone ? 'composed, not solved' : 'cap composed, not solved'}
      </text>
      {hasCone && (
        <text className="d-text-soft" x={jetEnd} y={midY - 9 - jetHalf * perUm} textAnchor="end">
          jet
        </text>
      )}
      <text className="d-text-soft" x={at(-extent.back, 0).x + 5} y={midY + 5}>
        {2 * bore * perUm > 22 ? 'bore' : ''}
      </text>
      <TipHandles {...props} at={at} perUm={perUm} back={extent.back} half={body.at(-1)?.y ?? 0} />
      <ScaleBar
        x={margin.left}
        y={height - 14}
        perUnit={perUm}
        unit="µm"
        most_px={Math.min(150, width / 3)}
      />
    </svg>
  );
}

/** Rim at the face, taper at the back end of what is shown. */
function TipHandles(
  props: TipViewProps & {
    at: (x: number, y: number) => Point;
    perUm: number;
    back: number;
    half: number;
  },
) {
  const { setup, at, perUm, back, half, onRim, onTaper } = props;
  const { rim_um, bore_um, shank_diameter_um, taper_half_angle_deg } = setup.emitter;
  const start = useRef({ rim_um, half, back, perUm });
  const take = () => {
    start.current = { rim_um, half, back, perUm };
  };
  const rim = useDrag(
    ({ dy }) => setRim(start.current.rim_um + (2 * dy) / start.current.perUm),
    (steps) => setRim(rim_um + 0.5 * steps),
    take,
  );
  const taper = useDrag(
    ({ dy }) => {
      const from = start.current;
      const rise = from.half + dy / from.perUm - rim_um / 2;
      setTaper((Math.atan(rise / from.back) * 180) / Math.PI);
    },
    (steps) => setTaper(taper_half_angle_deg + 0.5 * steps),
    take,
  );
  const setRim = (um: number) => onRim?.(rounded(Math.min(shank_diameter_um, Math.max(bore_um, um))));
  const setTaper = (deg: number) => onTaper?.(rounded(Math.min(45, Math.max(0, deg))));
  if (!onRim || !onTaper) return null;
  const rimAt = at(0, -rim_um / 2);
  const taperAt = at(-back, -half);
  return (
    <>
      <Handle
        x={rimAt.x}
        y={rimAt.y}
        label="Rim, drag"
        value={rim_um}
        low={bore_um}
        high={3000}
        text={`${given(rim_um)} µm`}
        drag={rim}
      />
      <Handle
        x={taperAt.x + 12}
        y={taperAt.y}
        label="Taper half-angle, drag"
        value={taper_half_angle_deg}
        low={0}
        high={45}
        text={`${given(taper_half_angle_deg)}°`}
        drag={taper}
      />
    </>
  );
}

function rounded(value: number): number {
  return Number(value.toPrecision(3));
}

export function tipWords(setup: Setup, plan: Plan | undefined, outline?: Outline): string {
  const { emitter } = setup;
  const body = `The tip to scale: bore ${given(emitter.bore_um)} µm, rim ${given(emitter.rim_um)} µm, the liquid wets up to the ${emitter.wets}.`;
  if (!plan) return body;
  if (outline && !outline.composed)
    return `${body} The meniscus is solved: its apex stands ${figure(outline.z_um[0])} µm high.`;
  const hasCone = outline?.composed ?? tipShape(setup, plan, 400, 300).hasCone;
  return hasCone
    ? `${body} Composed, not solved: a cone of half-angle ${CONE_HALF_ANGLE_DEG}° with a jet of ${figure(plan.jet_diameter_nm.value)} nm.`
    : `${body} Composed, not solved: a rounded cap, since no steady cone-jet is expected here.`;
}

/** What the view must hold, in µm: behind the tip, before it, and to each side. */
function tipExtent(setup: Setup): { back: number; front: number; half: number } {
  const contact = drawnContact_um(setup);
  const rim = setup.emitter.rim_um / 2;
  return { back: 2.2 * Math.max(rim, contact), front: 3 * contact, half: 1.5 * Math.max(rim, contact) };
}

/** Flooded up to the shank, the contact line lies outside this view: the cone is drawn on the rim, with a film behind it. */
function drawnContact_um(setup: Setup): number {
  return (setup.emitter.wets === 'bore' ? setup.emitter.bore_um : setup.emitter.rim_um) / 2;
}

function capPath(at: (x: number, y: number) => Point, contact: number): string {
  const steps = 40;
  const points: Point[] = [];
  for (let i = 0; i <= steps; i++) {
    const y = contact * (1 - (2 * i) / steps);
    points.push(at(CAP_HEIGHT * contact * (1 - (y / contact) ** 2), y));
  }
  return pathOf(points);
}
