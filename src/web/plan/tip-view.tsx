/**
 * The tip to scale, in section, with one micrometre scale. What stands in front of it, and what that may be called, comes from
 * `tipPicture`. Behind the tip the bore widens with the outside, or runs straight: as the set-up says, else straight.
 */
import type { Setup } from '../../core/setup.ts';
import { Hatch, pathOf, ScaleBar } from './drawing.tsx';
import { emitterOutline } from './outline.ts';
import { drawnContact_um, tipFrame, tipMargin } from './tip-frame.ts';
import { TipHandles } from './tip-handles.tsx';
import { TipLiquid } from './tip-liquid.tsx';
import { type TipPicture, tipWords } from './tip-picture.ts';

export interface TipViewProps {
  setup: Setup;
  /** Absent until the first plan. */
  picture: TipPicture | undefined;
  title?: string;
  /** Values being dragged; absent: nothing can be dragged. */
  onRim?: (rim_um: number) => void;
  onTaper?: (half_angle_deg: number) => void;
  width: number;
  height: number;
  /** A scale shared with another view. */
  perUm?: number;
}

export function TipView(props: TipViewProps) {
  const { setup, picture, width, height, onRim, onTaper } = props;
  const frame = tipFrame(setup, width, height, props.perUm);
  const { at, perUm, midY, back } = frame;
  const { emitter } = setup;
  const contact = drawnContact_um(emitter);
  const bore = emitter.bore_um / 2;
  const body = emitterOutline(emitter, back / 1000).map((p) => ({ x: -p.along * 1000, y: p.half * 1000 }));
  const widening = emitter.inside === 'widens' ? emitter.bore_um / emitter.rim_um : undefined;
  const inner = body.map((p) => ({ x: p.x, y: widening === undefined ? bore : widening * p.y }));
  const liquid = [...inner, ...inner.toReversed().map((p) => ({ x: p.x, y: -p.y }))];
  const walls = [1, -1].map((side) => [...body, ...inner.toReversed()].map((p) => at(p.x, side * p.y)));
  const film = emitter.wets === 'shank' ? body.map((p) => at(p.x, p.y + 0.06 * contact)) : [];
  const filmBelow = film.map((p) => ({ x: p.x, y: 2 * midY - p.y }));
  return (
    <svg
      viewBox={`0 0 ${width} ${height}`}
      role={onRim ? 'group' : 'img'}
      aria-label={tipWords(setup, picture)}
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
          <path className="d-composed" fill="none" d={pathOf(filmBelow, false)} />
        </>
      )}
      {picture && <TipLiquid picture={picture} frame={frame} contact_um={contact} />}
      <text className="d-text" x={tipMargin.left} y={24}>
        {props.title ?? (
          <>
            <tspan fontWeight="700">A</tspan> Tip, in section
          </>
        )}
      </text>
      <text className="d-text" x={width - tipMargin.right} y={24} textAnchor="end">
        {picture?.label ?? 'being solved…'}
      </text>
      <text className="d-text-soft" x={at(-back, 0).x + 5} y={midY + 5}>
        {2 * bore * perUm > 22 ? 'bore' : ''}
      </text>
      {onRim && onTaper && (
        <TipHandles
          setup={setup}
          frame={frame}
          halfAtBack={body.at(-1)?.y ?? 0}
          onRim={onRim}
          onTaper={onTaper}
        />
      )}
      <ScaleBar
        x={tipMargin.left}
        y={height - 14}
        perUnit={perUm}
        unit="µm"
        most_px={Math.min(150, width / 3)}
      />
    </svg>
  );
}
