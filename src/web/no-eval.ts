/** Imported before any schema exists: the server's content policy forbids code made from text, so zod must not try. */
import { config } from 'zod';

config({ jitless: true });
