export type { AgainstFrom, AgainstReading, AgainstReference } from './against-reading.ts';
export { againstCsv, againstEventText, againstText } from './against-text.ts';
export { type EarlierGood, earlierGood, type FileAgainstEarlier } from './earlier-good.ts';
export { type NamedReading, readAgainst } from './read-against.ts';
