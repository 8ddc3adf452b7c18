/**
 * Loaded before Ink, which draws nothing but the last frame where the environment speaks of
 * continuous integration. The screen is only ever started for a person at a terminal.
 */
process.env["CI"] = "false";
