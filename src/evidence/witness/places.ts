/** Place of each row of the record among the `rows` of a group, -1 for none. A long run has no room for a map. */
export function placesOf(rows: readonly number[]): Int32Array {
  const places = new Int32Array(1 + rows.reduce((most, row) => Math.max(most, row), -1)).fill(-1);
  rows.forEach((row, i) => {
    places[row] = i;
  });
  return places;
}
