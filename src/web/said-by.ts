/** What a caught trouble says. */
export function saidBy(trouble: unknown): string {
  return trouble instanceof Error ? trouble.message : String(trouble);
}
