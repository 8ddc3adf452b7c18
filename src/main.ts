#!/usr/bin/env node
import { run } from "./cli/run.ts";
import { processShell } from "./cli/shell.ts";

// The one place that ends the process. A reader that closes the pipe early (`| head`) is no fault.
process.stdout.on("error", (error: NodeJS.ErrnoException) => {
  if (error.code !== "EPIPE") throw error;
  process.exit(0);
});
const ending = await run(process.argv.slice(2), processShell());
if (typeof ending === "string") process.kill(process.pid, ending);
else process.exitCode = ending;
