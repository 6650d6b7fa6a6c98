/** What a walk says, and what to be careful about. */
export function WalkWords({ walk }: { walk: { sentences: readonly string[]; warnings: readonly string[] } }) {
  return (
    <div role="status">
      {walk.sentences.map((line) => (
        <p key={line}>{line}</p>
      ))}
      {walk.warnings.map((line) => (
        <p key={line} className="caution">
          {line}
        </p>
      ))}
    </div>
  );
}
