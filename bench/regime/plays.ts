/** Which descriptions make each regime of the tuning set; the descriptions are in the files named after their idea. */
import { burning, dripping } from './drop-plays.ts';
import { comingAndGoing, losing, staircase, stumbling } from './jets-plays.ts';
import { jet, level } from './level-plays.ts';
import type { Play, Scene } from './play.ts';
import type { TrueRegime } from './proof-trace.ts';
import { bursting, fitfulBursts, pulsating } from './pulse-plays.ts';
import { switching, visiting, wandering } from './unsteady-plays.ts';

export function playOf(regime: TrueRegime, scene: Scene, pump: boolean): Play {
  const { random, single_A, between } = scene;
  switch (regime) {
    case 'no spray':
      return level(random.between(-0.3e-9, 0.4e-9), scene, 0);
    case 'leak only':
      return level(between(1e-9, 5e-9), scene, random.between(-0.15, 0.15));
    case 'dripping':
      return dripping(scene);
    case 'pulsating':
      return pulsating(scene);
    case 'intermittent bursts':
      return (random.unit() < 0.5 ? bursting : fitfulBursts)(scene);
    case 'steady cone-jet':
      return jet(single_A * random.between(0.85, 1.15), scene);
    case 'unsteady jet':
      return [switching, visiting, wandering][random.index(3)]!(scene);
    case 'several jets':
      return [comingAndGoing, comingAndGoing, staircase, losing, stumbling][random.index(5)]!(scene);
    case 'corona or arc':
      return burning(scene);
    case 'mains or pump':
      return pump || random.unit() < 0.6
        ? jet(single_A * random.between(0.85, 1.15), scene)
        : level(random.between(0, 0.4e-9), scene, 0);
  }
}
