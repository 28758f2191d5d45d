#!/usr/bin/env node
import { runCommand } from './program.js';

// Whatever it writes is for its owner alone.
process.umask(0o077);

// A reader that has seen enough (`stanchion due | head`) is no fault.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code !== 'EPIPE') throw error;
  process.exit();
});

await runCommand(process.argv.slice(2));
