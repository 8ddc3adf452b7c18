import { nearest } from "../names.ts";
import { UsageError } from "./arguments.ts";

/** What is wrong with a command line, in our words. */

const OPTIONS = [
  "json",
  "tables",
  "seed",
  "steps",
  "seconds",
  "out",
  "decimal-comma",
  "done",
  "log",
  "material",
  "thickness",
  "help",
  "version",
];

/**
 * @param message what yargs found wrong.
 * @param typed the words of the command line, in which an unknown one still has its dashes.
 */
export function usageText(message: string, typed: readonly string[]): string {
  const unknown = /^Unknown arguments?: (.+)$/.exec(message)?.[1]?.split(", ");
  if (unknown !== undefined) return unknownText(unknown, typed);
  const bare = /^Not enough arguments following: (.+)$/.exec(message)?.[1];
  if (bare !== undefined) return `--${bare} needs a value after it`;
  if (message.startsWith("Not enough non-option")) return "the command needs a JOB";
  return message;
}

function unknownText(unknown: readonly string[], typed: readonly string[]): string {
  const word = typed.find((one) => unknown.includes(one));
  if (word !== undefined) return `"${word}" is a word too many: one command takes one JOB`;
  const option = typed.find((one) => isOneOf(unknown, one)) ?? unknown.join(", ");
  const name = bareName(option);
  if (OPTIONS.includes(name) && option.startsWith("--")) return `this command takes no --${name}`;
  const near = nearest(name, OPTIONS);
  return `there is no option ${option}${near === null ? "" : `; did you mean --${near}?`}`;
}

/** `-json` reaches us as j, s, o and n. */
function isOneOf(unknown: readonly string[], typed: string): boolean {
  if (!typed.startsWith("-")) return false;
  if (typed.startsWith("--")) return unknown.includes(bareName(typed));
  return unknown.includes(typed.charAt(1));
}

function bareName(option: string): string {
  return option.replace(/^-+/, "").replace(/=.*$/s, "");
}

/** For a first word that is no command, and no path of a job either. */
export function unknownWord(word: string, commands: readonly string[]): string {
  // In words this short, two swapped letters are too much of a difference for `nearest`.
  const near = nearest(word, commands) ?? commands.find((one) => letters(one) === letters(word));
  const hint = near === undefined ? "" : `; did you mean ${near}?`;
  return `"${word}" is neither a command nor a job on this disk${hint}`;
}

function letters(word: string): string {
  return word.split("").toSorted().join("");
}

/**
 * Refuses what yargs takes without a word and not as it was meant: of an option given twice the
 * last value, `--json=5` for no, `--job` beside a JOB, and words after `--` for nothing.
 * @throws UsageError
 */
export function assertPlain(args: readonly string[]): void {
  const options = args.filter((one) => one.startsWith("--"));
  const names = options.map(bareName);
  const valued = options.find((one) => /^--(?:json|help|version|decimal-comma)=/.test(one));
  if (valued !== undefined) throw new UsageError(`--${bareName(valued)} takes no value`);
  const twice = names.find((name, index) => names.indexOf(name) < index);
  if (twice !== undefined) throw new UsageError(`--${twice} is given twice`);
  const word = names.find((name) => name === "job" || name === "figure");
  if (word !== undefined)
    throw new UsageError(`there is no option --${word}: write the ${word} itself`);
  if (args.includes("--"))
    throw new UsageError("-- has no use here: write a path that begins with a dash as ./-path");
}
