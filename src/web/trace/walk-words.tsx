import { pageWords } from './page-words.ts';

/** What a walk says, and what to be careful about. */
export function WalkWords({ walk }: { walk: { sentences: readonly string[]; warnings: readonly string[] } }) {
  return (
    <div role="status" style={{ marginTop: '0.75rem' }}>
      {walk.sentences.map((line) => (
        <p key={line}>{pageWords(line)}</p>
      ))}
      {walk.warnings.map((line) => (
        <p key={line} className="caution">
          {pageWords(line)}
        </p>
      ))}
    </div>
  );
}
