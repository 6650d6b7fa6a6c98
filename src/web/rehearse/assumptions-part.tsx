import { ASSUMPTIONS, DIFFERS } from '../../rehearsal/index.ts';

export function Assumptions() {
  return (
    <section className="section" aria-label="What is assumed">
      <h2>What this bench assumes</h2>
      <ul>
        {ASSUMPTIONS.map((sentence) => (
          <li key={sentence}>{sentence}</li>
        ))}
      </ul>
      <h2>Where a real bench differs</h2>
      <ul>
        {DIFFERS.map((sentence) => (
          <li key={sentence}>{sentence}</li>
        ))}
      </ul>
    </section>
  );
}
