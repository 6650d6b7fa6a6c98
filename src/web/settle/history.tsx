/** Every reading in its order, with how it was taken. */
import './settle.css';
import { Button } from '@mantine/core';
import { useState } from 'react';
import type { Advice, SettleSession } from '../../core/settling/index.ts';
import { csvCell, saveText } from '../save.ts';
import { figure } from '../words.ts';
import { AXIS_NAMES, movable } from './axis-names.ts';

/** On a phone the older ones stay folded away until asked for (settle.css). */
const SHOWN_FIRST = 3;

export function History({ session, advice, name }: { session: SettleSession; advice: Advice; name: string }) {
  const [all, setAll] = useState(false);
  const axes = movable(session);
  if (session.readings.length === 0) return null;
  const csv = () =>
    [
      ['time_s', ...axes, 'level', 'scatter_percent', 'seen', 'event', 'taken'],
      ...session.readings.map((reading, k) => [
        reading.time_s,
        ...axes.map((axis) => reading.at[axis]),
        reading.level,
        reading.scatter_percent ?? '',
        reading.seen?.join(' ') ?? '',
        reading.event ?? '',
        advice.taken[k] ?? '',
      ]),
    ]
      .map((row) => row.map(csvCell).join(','))
      .join('\r\n');
  return (
    <section className="section" aria-label="Readings">
      <h2>Readings: {session.readings.length}</h2>
      <table className="stacked" data-table="readings" data-all={all}>
        <thead>
          <tr>
            <th scope="col">no.</th>
            {axes.map((axis) => (
              <th key={axis} scope="col">
                {AXIS_NAMES[axis].name} [{AXIS_NAMES[axis].unit}]
              </th>
            ))}
            <th scope="col">level</th>
            <th scope="col">scatter</th>
            <th scope="col">seen</th>
            <th scope="col">taken as</th>
          </tr>
        </thead>
        <tbody>
          {session.readings
            .map((reading, k) => (
              // biome-ignore lint/suspicious/noArrayIndexKey: a reading's number is its name
              <tr key={k}>
                <td data-label="no.">{k + 1}</td>
                {axes.map((axis) => (
                  <td key={axis} data-label={AXIS_NAMES[axis].name}>
                    {figure(reading.at[axis])}
                  </td>
                ))}
                <td data-label="level">{figure(reading.level)}</td>
                <td data-label="scatter">
                  {reading.scatter_percent === undefined ? '' : `${figure(reading.scatter_percent)} %`}
                </td>
                <td data-label="seen">{[...(reading.seen ?? []), reading.event ?? []].flat().join(', ')}</td>
                <td data-label="taken as">{advice.taken[k]}</td>
              </tr>
            ))
            .reverse()}
        </tbody>
      </table>
      {session.readings.length > SHOWN_FIRST && (
        <Button variant="default" className="all-rows" aria-expanded={all} onClick={() => setAll(!all)}>
          {all ? `Only the last ${SHOWN_FIRST}` : `All ${session.readings.length} readings`}
        </Button>
      )}
      <Button
        variant="default"
        onClick={() => saveText(`${name}.csv`, 'text/csv;charset=utf-8', `${csv()}\r\n`)}
      >
        Readings as CSV
      </Button>
    </section>
  );
}
