import type { RunReading } from '../../evidence/run-reading.ts';
import { count, figure, minutes } from '../words.ts';

/** What each group of scans told beyond its events: rate or counts, the common factor, the faults it could have shown. */
export function GroupFindings({ reading }: { reading: RunReading }) {
  const found = reading.groups.flatMap((group, i) => {
    const lines = [
      ...(group.spray?.sentences ?? []),
      ...(group.spray?.periods ?? []).map((period) => period.sentence),
      ...(group.rate?.sentences ?? []),
      ...(group.limits ? [group.limits.sentence] : []),
    ];
    const ions = group.spray?.background ?? [];
    return lines.length === 0 && ions.length === 0 ? [] : [{ i, label: group.label, lines, ions }];
  });
  if (found.length === 0) return null;
  return (
    <div className="section">
      <h2>What the scans tell</h2>
      {found.map(({ i, label, lines, ions }) => (
        <div key={i}>
          {reading.groups.length > 1 && <h3>{label}</h3>}
          <ul>
            {lines.map((line) => (
              <li key={line}>{line}</li>
            ))}
          </ul>
          {ions.length > 0 && (
            <details>
              <summary>Background ions followed: {ions.length}</summary>
              <ul>
                {ions.map((ion) => (
                  <li key={ion.mz}>
                    m/z {ion.mz.toFixed(3)}
                    {ion.known ? ` (the mass of ${ion.known})` : ''}: in {figure(100 * ion.presence)} % of the
                    scans, {figure(100 * ion.share, 2)} % of the level, scatter {figure(100 * ion.scatter, 2)}{' '}
                    %
                  </li>
                ))}
              </ul>
            </details>
          )}
        </div>
      ))}
    </div>
  );
}

export function GroupFacts({ reading }: { reading: RunReading }) {
  return (
    <div className="section">
      <h2>Groups of scans</h2>
      <ul>
        {reading.groups.map((group, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: groups are named by their index in the reading
          <li key={i}>
            {group.label}
            {i === reading.main_group && reading.groups.length > 1 ? ' (carries the verdict)' : ''}:{' '}
            {count(group.ms1_count)} scans, {minutes(group.start_s)} to {minutes(group.end_s)} min, one every{' '}
            {figure(group.interval_s)} s; level {group.level_from}
            {group.summed_over_stated !== null && `, sum over stated ${figure(group.summed_over_stated, 5)}`}
            {group.scatter !== null && `; scatter ${figure(100 * group.scatter)} % after the slow course`}
            {group.scan_scatter !== null && `, ${figure(100 * group.scan_scatter)} % from scan to scan`}
            {group.injection_time &&
              `; injection time median ${figure(group.injection_time.median_ms)} ms, at its limit in ${figure(100 * group.injection_time.clamped_share, 2)} % of scans`}
            .
          </li>
        ))}
      </ul>
    </div>
  );
}
