/** From a kept working point: into the plan's calibration, to the session it came from, and its hand-over. */
import { Button } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { Link } from 'wouter';
import type { BenchEntry } from '../../contract/index.ts';
import type { WorkingPoint } from '../../core/settling/index.ts';
import { planHref } from '../address.ts';
import { benchEntry } from '../api.ts';

export function PointLinks({ entry }: { entry: BenchEntry }) {
  const { item } = entry;
  const point = entry.document as WorkingPoint;
  const setup = useQuery({
    queryKey: ['bench', 'setup of', item.on],
    queryFn: () => setupOf(item.on ?? ''),
    enabled: item.on !== undefined,
  });
  const onBench = /^settle-\d+$/.test(point.session);
  return (
    <>
      {point.observations.length > 0 && (
        <Button component={Link} href={planHref(setup.data, point.observations)}>
          Calibrate the plan with it
        </Button>
      )}
      <Button component="a" variant="default" href={`/api/points/${item.id}.yaml`} download>
        Observations as YAML
      </Button>
      {onBench && (
        <>
          <Button component={Link} variant="default" href={`/settle/${point.session}`}>
            The settle session
          </Button>
          <Button
            component="a"
            variant="default"
            href={`/api/settlings/${point.session}/hand-over.html`}
            target="_blank"
          >
            Hand-over, one page
          </Button>
        </>
      )}
      {item.on === undefined && point.observations.length > 0 && (
        <p className="soft">
          No set-up stands with this point: the plan opens with its own values, put this emitter's in.
        </p>
      )}
    </>
  );
}

/** The newest set-up of the emitter. */
async function setupOf(emitter: string): Promise<unknown> {
  const { related } = await benchEntry(emitter);
  const newest = related.filter(({ kind }) => kind === 'setup').at(-1);
  return newest === undefined ? undefined : (await benchEntry(newest.id)).document;
}
