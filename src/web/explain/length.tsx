/** A share of 1 as a length beside its number; it says nothing that the number does not. */
export function Length({ share }: { share: number }) {
  return <span className="length" aria-hidden="true" style={{ width: `${Math.max(0.4, 100 * share)}%` }} />;
}
