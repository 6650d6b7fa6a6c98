#!/usr/bin/env node
import { program } from './program.ts';
import { refusal } from './refusal.ts';

try {
  await program().parseAsync(process.argv);
} catch (error) {
  process.exitCode = refusal(error);
}
