/** The end of a page: what it assumes, and where a real bench differs. */
export interface AssumptionsProps {
  title: string;
  assumed: readonly string[];
  differs: readonly string[];
}

export function Assumptions({ title, assumed, differs }: AssumptionsProps) {
  return (
    <section className="section" aria-label="What is assumed">
      <h2>{title}</h2>
      <ul>
        {assumed.map((sentence) => (
          <li key={sentence}>{sentence}</li>
        ))}
      </ul>
      <h2>Where a real bench differs</h2>
      <ul>
        {differs.map((sentence) => (
          <li key={sentence}>{sentence}</li>
        ))}
      </ul>
    </section>
  );
}
