/** The liquid in front of the tip: a solved surface filled and outlined, a composed one hatched, with its jet. */
import { TAYLOR_HALF_ANGLE_DEG } from '../../core/window/index.ts';
import { type Point, pathOf } from './drawing.tsx';
import type { TipFrame } from './tip-frame.ts';
import type { TipPicture } from './tip-picture.ts';

/** A line thinner than this vanishes on screens; a jet below it is drawn at it and the caption says so. */
const THINNEST_PX = 0.8;
/** A low cap below onset: height over contact radius, for the drawing only. */
const CAP_HEIGHT = 0.35;
/** Grey that still shows the shape on both grounds. */
const GREYED = { opacity: 0.6, filter: 'grayscale(1)' };

/** How many times its true width the jet is drawn; 1 where it is to scale. */
export function jetDrawn(jet_nm: number, perUm: number): number {
  const wide_px = (jet_nm / 1000) * perUm;
  return wide_px > 0 && wide_px < THINNEST_PX ? THINNEST_PX / wide_px : 1;
}

export function TipLiquid(props: { picture: TipPicture; frame: TipFrame; contact_um: number }) {
  const { picture, frame, contact_um } = props;
  const { shape, jet_nm, truth } = picture;
  const { at, perUm, front, midY } = frame;
  if (shape.kind === 'none') return null;
  const jetHalf = jet_nm === undefined ? 0 : (jet_nm / 2000) * jetDrawn(jet_nm, perUm);
  const coneLength = (contact_um - jetHalf) / Math.tan((TAYLOR_HALF_ANGLE_DEG * Math.PI) / 180);
  const surface = surfaceOf();
  const apex = shape.kind === 'outline' ? shape.outline.z_um[0]! : coneLength;
  const contact = shape.kind === 'outline' ? (shape.outline.r_um.at(-1) ?? contact_um) : contact_um;
  const end = at(front, 0).x;
  // A solved surface that is out of date stays plain: hatching would call it composed.
  const plain = truth === 'solved' || (shape.kind === 'outline' && !shape.outline.composed);
  return (
    <g data-truth={truth} style={picture.grey ? GREYED : undefined}>
      {plain ? (
        <>
          <path className="d-liquid" d={surface} />
          <path className="d-trace" d={surface} />
        </>
      ) : (
        <path className="d-composed" fill="url(#tip-liquid)" d={surface} />
      )}
      {jet_nm !== undefined && (
        <>
          <line
            className="d-jet"
            x1={at(apex, 0).x}
            y1={midY}
            x2={end}
            y2={midY}
            strokeWidth={Math.max(THINNEST_PX, 2 * jetHalf * perUm)}
          />
          <text className="d-text-soft" x={end} y={midY - 9 - jetHalf * perUm} textAnchor="end">
            jet
          </text>
        </>
      )}
      {[1, -1].map((side) => (
        <circle
          key={side}
          className="d-bar"
          cx={at(0, side * contact).x}
          cy={at(0, side * contact).y}
          r={3.5}
        />
      ))}
    </g>
  );

  function surfaceOf(): string {
    if (shape.kind === 'outline') {
      const { r_um, z_um } = shape.outline;
      const half = (side: number) => r_um.map((r, k) => at(z_um[k]!, side * r));
      return pathOf([...half(1).toReversed(), ...half(-1)]);
    }
    return shape.kind === 'cone'
      ? pathOf([at(0, contact_um), at(coneLength, jetHalf), at(coneLength, -jetHalf), at(0, -contact_um)])
      : pathOf(cap(at, contact_um));
  }
}

function cap(at: TipFrame['at'], contact: number): Point[] {
  const steps = 40;
  return Array.from({ length: steps + 1 }, (_, i) => {
    const y = contact * (1 - (2 * i) / steps);
    return at(CAP_HEIGHT * contact * (1 - (y / contact) ** 2), y);
  });
}
