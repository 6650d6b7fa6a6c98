/**
 * Where the belief lies along the way of the liquid and the ions, from bottle to instrument: a section that is not to
 * scale, six numbered places, their share hatched as a length in the list below. The sum of single faults by family.
 */
import { FAULTS, type Fault } from '../../core/causes/index.ts';
import type { Explained } from '../../evidence/explain/explain-run.ts';
import { Hatch } from '../plan/drawing.tsx';
import { useWidth } from '../use-width.ts';
import { percent } from './belief-words.ts';
import { Length } from './length.tsx';

const PLACES: readonly { family: Fault['family']; words: string; at: number; up: number }[] = [
  { family: 'liquid composition', words: 'what the liquid is', at: 0.06, up: 0.5 },
  { family: 'liquid supply', words: 'what brings the liquid', at: 0.2, up: 0.5 },
  { family: 'voltage and electrics', words: 'voltage and contacts', at: 0.335, up: 0.2 },
  { family: 'tip', words: 'the tip itself', at: 0.52, up: 0.5 },
  { family: 'position, gas, inlet', words: 'position, gas and inlet', at: 0.7, up: 0.5 },
  { family: 'inside the instrument', words: 'inside the instrument', at: 0.89, up: 0.5 },
];
const HEIGHT = 190;
const NARROWEST = 280;
const WIDEST = 1100;
/** The place with the most belief is filled. */
const RADIUS = 17;

export function PlacePicture({ explained }: { explained: Explained }) {
  const { ref, width } = useWidth();
  const w = Math.min(WIDEST, Math.max(NARROWEST, Math.floor(width)));
  const shares = PLACES.map(({ family }) =>
    explained.ranked.causes.reduce(
      (sum, { fault, probability }) =>
        FAULTS.find((one) => one.id === fault)?.family === family ? sum + probability : sum,
      0,
    ),
  );
  const most = shares.indexOf(Math.max(...shares));
  const x = (share: number) => share * w;
  const mid = HEIGHT * 0.55;
  return (
    <figure className="sheet places" ref={ref}>
      {width > 0 && (
        <svg
          width={w}
          height={HEIGHT}
          viewBox={`0 0 ${w} ${HEIGHT}`}
          role="img"
          aria-label={`Where the cause may lie: ${PLACES.map(({ words }, i) => `${i + 1} ${words} ${percent(shares[i]!)}`).join(', ')}`}
        >
          <defs>
            <Hatch id="e-spray" className="d-hatch" angle={60} step={8} />
          </defs>
          {/* bottle and line */}
          <path
            className="d-liquid"
            d={`M${x(0.02)} ${mid - 12}H${x(0.1)}V${mid + 48}H${x(0.02)}Z M${x(0.1)} ${mid - 4}H${x(0.3)}V${mid + 4}H${x(0.1)}Z`}
          />
          <path
            className="d-ink"
            d={`M${x(0.02)} ${mid - 30}V${mid + 48}H${x(0.1)}V${mid + 5}H${x(0.3)} M${x(0.02)} ${mid - 30}H${x(0.1)}V${mid - 5}H${x(0.3)}`}
          />
          {/* union with its lead */}
          <rect className="d-solid" x={x(0.3)} y={mid - 20} width={x(0.07)} height={40} />
          <path className="d-ink" d={`M${x(0.335)} ${mid - 20}V${mid - 44}`} />
          {/* emitter */}
          <path
            className="d-solid"
            d={`M${x(0.37)} ${mid - 15}H${x(0.46)}L${x(0.58)} ${mid - 4}V${mid + 4}L${x(0.46)} ${mid + 15}H${x(0.37)}Z`}
          />
          <path className="d-liquid" d={`M${x(0.37)} ${mid - 3}H${x(0.58)}V${mid + 3}H${x(0.37)}Z`} />
          {/* spray, composed */}
          <path
            className="d-composed"
            fill="url(#e-spray)"
            d={`M${x(0.58)} ${mid - 3}L${x(0.6)} ${mid}L${x(0.77)} ${mid - 26}V${mid + 26}L${x(0.6)} ${mid}L${x(0.58)} ${mid + 3}Z`}
          />
          {/* inlet and instrument */}
          <path
            className="d-solid"
            d={`M${x(0.78)} ${mid - 52}H${x(0.8)}V${mid - 6}H${x(0.85)}V${mid - 52}H${x(0.98)}V${mid + 52}H${x(0.85)}V${mid + 6}H${x(0.8)}V${mid + 52}H${x(0.78)}Z`}
          />
          {PLACES.map(({ family, at, up }, i) => (
            <g key={family}>
              <circle
                className={i === most ? 'place-most' : 'place'}
                cx={x(at)}
                cy={up < 0.3 ? mid - 58 : mid + 66 - (up - 0.5)}
                r={RADIUS}
              />
              <text
                className={i === most ? 'd-text place-most-text' : 'd-text'}
                x={x(at)}
                y={(up < 0.3 ? mid - 58 : mid + 66) + 5}
                textAnchor="middle"
              >
                {i + 1}
              </text>
            </g>
          ))}
        </svg>
      )}
      <figcaption>
        <ol className="place-list">
          {PLACES.map(({ family, words }, i) => (
            <li key={family}>
              <span>
                {i === most ? <strong>{words}</strong> : words}: {percent(shares[i]!)}
              </span>
              <Length share={shares[i]!} />
            </li>
          ))}
        </ol>
        <span className="soft">
          A section, not to scale; the spray is composed, not solved. Single faults only.
        </span>
      </figcaption>
    </figure>
  );
}
