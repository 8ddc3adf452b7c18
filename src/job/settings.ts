import type { Currency } from "../money.ts";
import { currencyOf } from "../money.ts";
import { errorAt, inColumn } from "../problem.ts";
import type { Place, Problem } from "../problem.ts";
import { mendName, oneOf, sameText, spelling } from "../names.ts";
import { readRules, RULE_NAMES, SETTING_KINDS } from "./setting-kinds.ts";
import type { CellKind } from "./cells.ts";
import { SETTING_NAMES, WORDING_NAMES } from "./types.ts";
import type { Rules, Setting, SettingName, TableRow, WordingName } from "./types.ts";

/** settings.csv: a table of names and values, each name with its own kind of value. */

export interface SettingRow extends TableRow {
  readonly value: string;
}

export interface SettingsRead {
  readonly currency: Currency | null;
  readonly currencyPlace: Place | null;
  readonly machine: SettingRow | null;
  readonly settings: ReadonlyMap<SettingName, Setting>;
  readonly rules: Rules;
  readonly wordings: ReadonlyMap<WordingName, readonly string[]>;
  readonly problems: readonly Problem[];
}

export const SETTING_IDS: readonly string[] = [
  "currency",
  "machine",
  ...SETTING_NAMES,
  ...RULE_NAMES,
  ...WORDING_NAMES,
];

export function readSettings(rows: readonly SettingRow[]): SettingsRead {
  const problems: Problem[] = [];
  const settings = new Map<SettingName, Setting>();
  let currency: Currency | null = null;
  let currencyPlace: Place | null = null;
  for (const row of rows) {
    const name = SETTING_NAMES.find((known) => sameText(known, row.id));
    if (name !== undefined) {
      const value = SETTING_KINDS[name].read(row.value);
      if (value === null) problems.push(wrongValue(row, SETTING_KINDS[name]));
      else settings.set(name, { value, place: inColumn(row.place, "value"), cited: row.source });
    } else if (sameText(row.id, "currency")) {
      currency = currencyOf(row.value);
      currencyPlace = inColumn(row.place, "value");
      if (currency === null) problems.push(wrongCurrency(row));
    } else if (spelling(row.id, SETTING_IDS) === null) problems.push(unknownSetting(row));
  }
  const machine = rows.find(({ id }) => sameText(id, "machine")) ?? null;
  const rules = readRules((name, kind) => {
    const row = rows.find(({ id }) => sameText(id, name));
    const word = row ? kind.read(row.value) : null;
    if (row && word === null) problems.push(wrongValue(row, kind));
    if (!row || word === null) return null;
    return { word, place: inColumn(row.place, "value"), cited: row.source };
  });
  const wordings = wordingsOf(rows);
  return { currency, currencyPlace, machine, settings, rules, wordings, problems };
}

function wordingsOf(rows: readonly SettingRow[]): SettingsRead["wordings"] {
  const said = WORDING_NAMES.flatMap((name) => {
    const row = rows.find(({ id }) => sameText(name, id));
    return row === undefined ? [] : [[name, linesOf(row.value)] as const];
  });
  return new Map(said);
}

function linesOf(value: string): readonly string[] {
  const lines = value.split(";").map((line) => line.trim());
  return lines.filter((line) => line !== "");
}

function wrongValue({ place, value }: SettingRow, kind: CellKind<unknown>): Problem {
  const { code, expected, mend } = kind;
  return errorAt(inColumn(place, "value"), { code, found: value, expected, mend: mend(value) });
}

function wrongCurrency({ place, value }: SettingRow): Problem {
  return errorAt(inColumn(place, "value"), {
    code: "unknown-currency",
    found: value,
    expected: "a three-letter currency code of ISO 4217 such as EUR",
    mend: "Write the code, not the sign or the name",
  });
}

function unknownSetting({ place, id }: SettingRow): Problem {
  return errorAt(inColumn(place, "id"), {
    code: "unknown-setting",
    found: id,
    expected: oneOf(id, SETTING_IDS),
    mend: mendName(id, SETTING_IDS, "remove the row"),
  });
}
