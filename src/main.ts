#!/usr/bin/env node
import { run } from "./cli/run.ts";
import { lostOutputText, processShell } from "./cli/shell.ts";
import { EXIT } from "./cli/exit.ts";

// The one place that ends the process. A reader that closes the pipe early (`| head`) is no fault.
process.stdout.on("error", (error: NodeJS.ErrnoException) => {
  if (error.code === "EPIPE") return;
  process.stderr.write(lostOutputText(error));
  process.exit(EXIT.inputHasErrors);
});
process.stderr.on("error", () => undefined);

const ending = await run(process.argv.slice(2), processShell());
if (typeof ending === "string") process.kill(process.pid, ending);
else process.exitCode = ending;
