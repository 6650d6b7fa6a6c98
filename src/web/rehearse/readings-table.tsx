/** The readings taken so far: each setting held for two seconds is one. */
import { Button } from '@mantine/core';
import { READING_S, type Reading } from '../../rehearsal/index.ts';
import { saveText } from '../save.ts';
import { StackedTable } from '../stacked-table.tsx';
import { figure, given } from '../words.ts';

const SHOWN = 12;

export function ReadingsTable({ readings }: { readings: readonly Reading[] }) {
  const first = Math.max(0, readings.length - SHOWN);
  const shown = readings.slice(first).map((reading, k) => {
    const number = first + k + 1;
    return { key: number, cells: cells(reading, number) };
  });
  return (
    <section className="section" aria-label="Readings">
      <h2>
        {readings.length === 0
          ? 'No reading yet'
          : readings.length === 1
            ? 'One reading'
            : `${readings.length} readings`}
      </h2>
      <p>
        A setting held for {READING_S} s is a reading; its first half second is left out.
        {first > 0 && ` The last ${SHOWN} are shown.`}
      </p>
      {shown.length > 0 && (
        <>
          <div className="scroll">
            <StackedTable columns={COLUMNS} rows={shown} />
          </div>
          <div className="row">
            <Button
              variant="default"
              onClick={() => saveText('rehearsal-readings.csv', 'text/csv', readingsCsv(readings))}
            >
              Readings as CSV
            </Button>
          </div>
        </>
      )}
    </section>
  );
}

const COLUMNS = [
  'No.',
  'Voltage [V]',
  'Flow [nL/min]',
  'Distance [mm]',
  'Offset [mm]',
  'Mean current [nA]',
  'Its spread [%]',
  'Signal [%]',
  'Its scatter [%]',
];

function cells({ controls, ...reading }: Reading, number: number): string[] {
  const percent = (share: number | undefined) => (share === undefined ? '–' : figure(100 * share, 2));
  return [
    String(number),
    controls.high_voltage ? given(controls.voltage_V) : 'off',
    given(controls.flow_nL_min),
    given(controls.distance_mm),
    given(controls.offset_mm),
    Math.abs(reading.current_nA) < 1 ? 'below 1' : figure(reading.current_nA),
    Math.abs(reading.current_nA) < 1 ? '–' : percent(reading.current_spread),
    percent(reading.level),
    percent(reading.level_scatter),
  ];
}

export function readingsCsv(readings: readonly Reading[]): string {
  const lines = readings.map(({ controls, ...reading }, k) =>
    [
      k + 1,
      controls.high_voltage ? controls.voltage_V : 0,
      controls.flow_nL_min,
      controls.distance_mm,
      controls.offset_mm,
      reading.held_s.toFixed(1),
      reading.current_nA.toFixed(3),
      (100 * reading.current_spread).toFixed(2),
      reading.level === undefined ? '' : (100 * reading.level).toFixed(2),
      reading.level_scatter === undefined ? '' : (100 * reading.level_scatter).toFixed(2),
    ].join(','),
  );
  return `# invented data: made by steadycone rehearse; not a measurement\nnumber,voltage_V,flow_nL_min,distance_mm,offset_mm,held_s,current_nA,current_spread_percent,level_percent,level_scatter_percent\n${lines.join('\n')}\n`;
}
