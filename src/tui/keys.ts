/**
 * Every key there is, in one table: the matcher, the footer and the help screen are made from it.
 * Left out on purpose: Alt, Cmd, F11 and above, Ctrl-I, Ctrl-M and Ctrl-[, which terminals swallow
 * or send as other keys.
 */

/** Where the keys go: a panel, a tree or text being read, a field being filled, a list of jobs, a question. */
export type Context =
  | "start"
  | "parts"
  | "sizes"
  | "sheets"
  | "time"
  | "price"
  | "why"
  | "reading"
  | "field"
  | "leaving";

export type CommandId =
  | "up"
  | "down"
  | "page up"
  | "page down"
  | "first"
  | "last"
  | "next panel"
  | "previous panel"
  | "panel 1"
  | "panel 2"
  | "panel 3"
  | "panel 4"
  | "panel 5"
  | "next part"
  | "previous part"
  | "to part"
  | "to sheets"
  | "quantity"
  | "pieces"
  | "more"
  | "fewer"
  | "why"
  | "turn"
  | "unfold"
  | "fold"
  | "undo"
  | "redo"
  | "export"
  | "save"
  | "choose"
  | "open"
  | "reload"
  | "notes"
  | "help"
  | "back"
  | "close"
  | "accept"
  | "erase"
  | "clear"
  | "stay"
  | "leave now"
  | "leave"
  | "interrupt";

export type CommandGroup = "Move" | "Change" | "Look closer" | "Job" | "Field" | "Leave";

export interface Command {
  readonly id: CommandId;
  /** Names as input.ts gives them: a character, `up`, `enter`, `ctrl-r`. */
  readonly keys: readonly string[];
  /** For the footer; an empty one is only in the help. */
  readonly label: string;
  /** For the help. */
  readonly description: string;
  readonly group: CommandGroup;
  readonly contexts: readonly Context[];
}

const PANELS: readonly Context[] = ["parts", "sizes", "sheets", "time", "price"];
const BASE: readonly Context[] = ["start", ...PANELS];
const LISTS: readonly Context[] = [...BASE, "why", "reading"];
const ALL: readonly Context[] = [...LISTS, "field", "leaving"];
const SAVES: readonly Context[] = [...PANELS, "leaving"];
const OVER: readonly Context[] = ["why", "reading", "field", "leaving"];

type Row = readonly [
  CommandId,
  readonly string[],
  string,
  string,
  CommandGroup,
  readonly Context[],
];

/** In the order of the footer: what is most wanted first. */
const ROWS: readonly Row[] = [
  [
    "interrupt",
    ["ctrl-c"],
    "end with the best",
    "end running work with the best so far; with none running, or a second time, leave",
    "Leave",
    ALL,
  ],
  ["accept", ["enter"], "take it", "take what is typed", "Field", ["field"]],
  ["erase", ["backspace"], "", "erase the last character", "Field", ["field"]],
  ["clear", ["ctrl-u"], "empty", "empty the field", "Field", ["field"]],
  ["leave now", ["q", "y", "enter"], "leave", "leave all the same", "Leave", ["leaving"]],
  ["stay", ["n"], "stay", "stay", "Leave", ["leaving"]],
  ["choose", ["enter"], "open", "open the job under the cursor", "Job", ["start"]],
  ["turn", ["enter"], "unfold or fold", "unfold the figure, or fold it", "Look closer", ["why"]],
  ["unfold", ["right", "l"], "", "unfold, or go to the first figure below", "Look closer", ["why"]],
  ["fold", ["left", "h"], "", "fold, or go to the figure above", "Look closer", ["why"]],
  ["close", ["q"], "close", "close what is being read", "Look closer", ["why", "reading"]],
  ["quantity", ["enter"], "quantity", "type how many of the part", "Change", ["parts"]],
  ["more", ["+", "="], "more", "one more of the part in each piece", "Change", ["parts"]],
  ["fewer", ["-"], "fewer", "one fewer of the part in each piece", "Change", ["parts"]],
  ["to sheets", ["enter"], "its sheets", "to the sheets of that material", "Move", ["sizes"]],
  ["next part", ["n"], "next part", "highlight the next part of the sheet", "Move", ["sheets"]],
  ["previous part", ["N"], "", "highlight the part before", "Move", ["sheets"]],
  ["to part", ["enter"], "to the part", "to the highlighted part in the list", "Move", ["sheets"]],
  ["pieces", ["m"], "pieces", "type how many pieces are commissioned", "Change", PANELS],
  ["why", ["w"], "why", "where the figures under the cursor come from", "Look closer", PANELS],
  ["why", ["enter"], "", "the same as w", "Look closer", ["time", "price"]],
  ["save", ["s"], "save", "write changed numbers into the job's own files", "Job", SAVES],
  ["export", ["e"], "export", "write the quote and its files", "Job", SAVES],
  ["undo", ["u"], "undo", "take back the last change of a number", "Change", PANELS],
  ["redo", ["ctrl-r"], "redo", "make it again", "Change", PANELS],
  ["open", ["o"], "open", "open another job by its path", "Job", BASE],
  ["notes", ["p"], "notes", "read problems, warnings and cautions", "Look closer", BASE],
  ["leave", ["q"], "leave", "leave; asks once if changed numbers would be lost", "Leave", BASE],
  ["reload", ["r"], "read again", "read the job's files again", "Job", BASE],
  ["up", ["up", "k"], "", "one line up", "Move", LISTS],
  ["down", ["down", "j"], "", "one line down", "Move", LISTS],
  ["page up", ["pageup"], "", "one page up", "Move", LISTS],
  ["page down", ["pagedown"], "", "one page down", "Move", LISTS],
  ["first", ["home", "g"], "", "to the first line", "Move", LISTS],
  ["last", ["end", "G"], "", "to the last line", "Move", LISTS],
  ["next panel", ["tab", "right", "l"], "", "the next panel", "Move", PANELS],
  ["previous panel", ["shift-tab", "left", "h"], "", "the panel before", "Move", PANELS],
  ["panel 1", ["1"], "", "the parts", "Move", PANELS],
  ["panel 2", ["2"], "", "the sizes of sheet to choose from", "Move", PANELS],
  ["panel 3", ["3"], "", "the sheets as they are cut", "Move", PANELS],
  ["panel 4", ["4"], "", "the machine's time", "Move", PANELS],
  ["panel 5", ["5"], "", "the price", "Move", PANELS],
  ["back", ["escape"], "back", "back one level; never leaves", "Leave", OVER],
  ["help", ["?"], "keys", "all keys", "Look closer", [...BASE, "why"]],
];

export const COMMANDS: readonly Command[] = ROWS.map(
  ([id, keys, label, description, group, contexts]) => ({
    id,
    keys,
    label,
    description,
    group,
    contexts,
  }),
);

/** The command of a key where the cursor is, or null. */
export function commandFor(context: Context, key: string): CommandId | null {
  const command = COMMANDS.find(
    ({ keys, contexts }) => contexts.includes(context) && keys.includes(key),
  );
  return command?.id ?? null;
}

const NAMES: Readonly<Record<string, string>> = {
  up: "↑",
  down: "↓",
  left: "←",
  right: "→",
  enter: "Enter",
  escape: "Esc",
  tab: "Tab",
  "shift-tab": "Shift-Tab",
  home: "Home",
  end: "End",
  pageup: "PageUp",
  pagedown: "PageDown",
  backspace: "Backspace",
};

/** As a person reads it: `Ctrl-R`, `Enter`, `j`. */
export function keyText(key: string): string {
  return (
    NAMES[key] ?? key.replace(/^ctrl-(.)$/, (_, letter: string) => `Ctrl-${letter.toUpperCase()}`)
  );
}
