/** Two tips to one scale, each with its meniscus at its own turning point: the last solved shape before it ejects. */
import { useWidth } from '../use-width.ts';
import { figure, withUnit } from '../words.ts';
import { tipFrame } from './tip-frame.ts';
import { type Planned, tipPicture } from './tip-picture.ts';
import { TipView } from './tip-view.tsx';
import type { Standing } from './use-plan.ts';

const HEIGHT = 260;

export function BesideTips({ now, stale, aside }: { now: Planned; stale: boolean; aside: Planned }) {
  const left = useWidth();
  const right = useWidth();
  const width = Math.round(Math.min(left.width, right.width));
  const perUm =
    width > 0
      ? Math.min(...[now, aside].map(({ setup }) => tipFrame(setup, width, HEIGHT).perUm))
      : undefined;
  const tip = (side: Planned, standing: Standing, title: string) =>
    perUm !== undefined && (
      <OneTip side={side} standing={standing} title={title} width={width} perUm={perUm} />
    );
  return (
    <div className="beside">
      <figure className="sheet">
        <div ref={left.ref}>{tip(aside, 'whole', 'Put aside')}</div>
        <figcaption>{words('Put aside', aside)}</figcaption>
      </figure>
      <figure className="sheet">
        <div ref={right.ref}>{tip(now, stale ? 'computing' : 'whole', 'On the page')}</div>
        <figcaption>{words('On the page', now)}</figcaption>
      </figure>
    </div>
  );
}

function OneTip(props: { side: Planned; standing: Standing; title: string; width: number; perUm: number }) {
  const { side, standing, title, width, perUm } = props;
  const { setup, plan } = side;
  const onset_V = onsetOf(side);
  const jet_nm = plan.jet_diameter_nm.value;
  const picture = tipPicture({ setup, done: side, standing, volts: onset_V, onset_V, jet_nm });
  return (
    <TipView setup={setup} picture={picture} title={title} width={width} height={HEIGHT} perUm={perUm} />
  );
}

function onsetOf({ plan }: Planned): number {
  return plan.meniscus.kind === 'solved' ? plan.meniscus.onset_V : plan.onset_V.value;
}

function words(title: string, side: Planned): string {
  const { meniscus } = side.plan;
  const name = `${title}: ${side.setup.name ?? 'unnamed set-up'}`;
  if (meniscus.kind !== 'solved') return `${name}; ${meniscus.kind}: ${meniscus.reason}.`;
  return `${name}; the meniscus as it turns at ${withUnit(figure(onsetOf(side)), 'V')}, its apex ${figure(meniscus.onset_apex_height_um)} µm high.`;
}
