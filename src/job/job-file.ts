import { errorAt } from "../problem.ts";
import type { Place, Problem } from "../problem.ts";
import { sameText } from "../names.ts";
import { lengthText, sameThickness, stockName } from "../units.ts";
import { choice, countUpTo, day, length, lengthUpTo, text, wholeUpTo } from "./cells.ts";
import { readDelivery } from "./delivery.ts";
import { MOST } from "./limits.ts";
import { NO_RULES, readRules, SETTING_KINDS } from "./setting-kinds.ts";
import { SETTING_NAMES } from "./types.ts";
import type {
  Alternative,
  Attended,
  ChosenSheet,
  CommonCuts,
  CutLines,
  Delivery,
  Job,
  JobTerms,
  LineRule,
  MeasuredSheet,
  Rules,
  Setting,
  SettingName,
  SourceText,
} from "./types.ts";
import { BELOW_PRICE, BELOW_TERMS, NO_TERMS, PRICE_NAMES, readTerms, readTexts } from "./terms.ts";
import { readAlternatives } from "./alternatives.ts";
import { YamlReader } from "./yaml-map.ts";
import type { YamlEntry } from "./yaml-map.ts";

/** What job.yaml says; everything in it may be left out. */
export interface JobFile {
  readonly title: string | null;
  readonly customer: string;
  readonly reference: string;
  readonly date: string | null;
  readonly pieces: number;
  /** Null where the file does not say. */
  readonly piecesPlace: Place | null;
  readonly pieceName: string;
  readonly machine: string | null;
  readonly machinePlace: Place | null;
  readonly attended: Attended | null;
  readonly machineDays: Job["machineDays"];
  readonly lineRules: readonly LineRule[];
  readonly measured: readonly MeasuredSheet[];
  readonly sheets: readonly ChosenSheet[];
  readonly alternatives: readonly Alternative[];
  readonly cutLines: CutLines;
  readonly commonCuts: CommonCuts;
  /** Null where the job does not say. */
  readonly commonCutsPlace: Place | null;
  readonly delivery: Delivery | null;
  readonly settings: ReadonlyMap<SettingName, Setting>;
  readonly rules: Rules;
  readonly terms: JobTerms;
  readonly notes: readonly string[];
}

export interface JobFileRead {
  readonly file: JobFile;
  readonly problems: readonly Problem[];
}

export const NO_JOB_FILE: JobFile = {
  title: null,
  customer: "",
  reference: "",
  date: null,
  pieces: 1,
  piecesPlace: null,
  pieceName: "piece",
  machine: null,
  machinePlace: null,
  attended: null,
  machineDays: null,
  lineRules: [],
  measured: [],
  sheets: [],
  alternatives: [],
  cutLines: "as drawn",
  commonCuts: "twice",
  commonCutsPlace: null,
  delivery: null,
  settings: new Map(),
  rules: NO_RULES,
  terms: NO_TERMS,
  notes: [],
};

const KEYS = [
  "title",
  "customer",
  "reference",
  "date",
  "pieces",
  "piece_name",
  "machine",
  "attended",
  "machine_days",
  "lines",
  "measured",
  "sheets",
  "alternatives",
  "cut_lines",
  "common_cuts",
  "price",
  "delivery",
  "terms",
  "notes",
];

const MARKS = ["class", "stroke", "id", "layer"] as const;

const LINE_KEYS = [...MARKS, "do"] as const;

/** Reads job.yaml and reports every fault with its line and its path, `price.markup_percent`. */
export function readJobFile(source: SourceText): JobFileRead {
  const yaml = new YamlReader(source);
  const fields = yaml.root(KEYS, [BELOW_PRICE, BELOW_TERMS]);
  const said = (name: string): string | null => yaml.value(fields.get(name), text);
  const file: JobFile = {
    title: said("title"),
    customer: said("customer") ?? "",
    reference: said("reference") ?? "",
    date: yaml.value(fields.get("date"), day),
    pieces: yaml.value(fields.get("pieces"), wholeUpTo(MOST.each)) ?? 1,
    piecesPlace: fields.get("pieces")?.place ?? null,
    pieceName: said("piece_name") ?? "piece",
    machine: said("machine"),
    machinePlace: fields.get("machine")?.place ?? null,
    attended: readAttended(yaml, fields.get("attended")),
    machineDays: readDays(yaml, fields.get("machine_days")),
    lineRules: readLineRules(yaml, fields.get("lines")),
    measured: readMeasured(yaml, fields.get("measured")),
    sheets: readSheets(yaml, fields.get("sheets")),
    alternatives: readAlternatives(yaml, fields.get("alternatives")),
    cutLines: yaml.value(fields.get("cut_lines"), CUT_LINES) ?? "as drawn",
    commonCuts: yaml.value(fields.get("common_cuts"), COMMON_CUTS) ?? "twice",
    commonCutsPlace: fields.get("common_cuts")?.place ?? null,
    delivery: readDelivery(yaml, fields.get("delivery")),
    ...readPrice(yaml, fields.get("price")),
    terms: readTerms(yaml, fields.get("terms")),
    notes: readTexts(yaml, fields.get("notes")),
  };
  return { file, problems: [...yaml.sorted(), ...measuredTwice(file.measured)] };
}

function readAttended(yaml: YamlReader, entry: YamlEntry | undefined): Attended | null {
  const rate = yaml.value(entry, text);
  return entry === undefined || rate === null ? null : { rate, place: entry.place };
}

function readDays(yaml: YamlReader, entry: YamlEntry | undefined): Job["machineDays"] {
  const days = yaml.value(entry, countUpTo(MOST.days));
  return entry === undefined || days === null ? null : { days, place: entry.place };
}

function readLineRules(yaml: YamlReader, entry: YamlEntry | undefined): readonly LineRule[] {
  if (entry === undefined) return [];
  return yaml.items(entry).flatMap((item) => {
    const fields = yaml.fields(item, LINE_KEYS);
    const [by, ...more] = MARKS.filter((key) => fields.has(key));
    const which = by === undefined ? undefined : fields.get(by);
    const operation = yaml.needed(
      fields.get("do") ?? { place: item.place, node: null },
      choice(["cut", "score", "engrave", "leave out"]),
      "Write `do: cut`, `do: score`, `do: engrave` or `do: leave out`",
    );
    const value = yaml.needed(which ?? { place: item.place, node: null }, LINE_VALUE, LINE_MEND);
    for (const key of more) yaml.value(fields.get(key), ONE_OF_THEM);
    if (by === undefined || value === null || operation === null || more.length > 0) return [];
    return [{ by, value, operation, place: which?.place ?? item.place }];
  });
}

const CUT_LINES = choice(["as drawn", "moved by half the kerf"]);
const COMMON_CUTS = choice(["twice", "once"]);

function readMeasured(yaml: YamlReader, entry: YamlEntry | undefined): readonly MeasuredSheet[] {
  if (entry === undefined) return [];
  return yaml.items(entry).flatMap((item) => {
    const fields = yaml.fields(item, ["material", "thickness", "measured"]);
    const field = (name: string): YamlEntry =>
      fields.get(name) ?? { place: item.place, node: null };
    const material = yaml.needed(field("material"), text, MEASURED_MEND);
    const thicknessMm = yaml.needed(field("thickness"), length, MEASURED_MEND);
    const measuredMm = yaml.needed(field("measured"), THICKNESS, MEASURED_MEND);
    if (material === null || thicknessMm === null || measuredMm === null) return [];
    const measuredPlace = field("measured").place;
    return [{ material, thicknessMm, measuredMm, place: item.place, measuredPlace }];
  });
}

/** Two readings of one sheet: which one holds is not for us to guess. */
function measuredTwice(measured: readonly MeasuredSheet[]): readonly Problem[] {
  return measured.flatMap((sheet, index) => {
    const twin = measured
      .slice(0, index)
      .find(
        ({ material, thicknessMm }) =>
          sameText(material, sheet.material) && sameThickness(thicknessMm, sheet.thicknessMm),
      );
    if (twin === undefined) return [];
    return errorAt(sheet.place, {
      code: "measured-twice",
      found: `${stockName(sheet)} ${lengthText(sheet.measuredMm)}`,
      expected: `one measure of it; line ${twin.place.line ?? 0} says ${lengthText(twin.measuredMm)}`,
      mend: "Delete the one that does not hold any more",
    });
  });
}

const THICKNESS = lengthUpTo(MOST.thicknessMm);

const MEASURED_MEND =
  "Write material and thickness as the parts list has them, and what was measured";

/** An unquoted `#` begins a comment, so that a colour vanishes. */
const LINE_MEND = 'Name a class, stroke, id or layer; a colour goes in quotes: stroke: "#ff0000"';

const LINE_VALUE = {
  ...text,
  expected: "the class, stroke colour, id or layer of the lines meant",
};

const ONE_OF_THEM = {
  code: "one-of-them",
  expected: "only one of class, stroke, id and layer in an item",
  read: (): null => null,
  mend: () => "Make two items of it",
};

function readPrice(
  yaml: YamlReader,
  entry: YamlEntry | undefined,
): Pick<JobFile, "settings" | "rules"> {
  const settings = new Map<SettingName, Setting>();
  if (entry === undefined) return { settings, rules: NO_RULES };
  const fields = yaml.fields(entry, PRICE_NAMES, [BELOW_TERMS]);
  for (const name of SETTING_NAMES) {
    const field = fields.get(name);
    const mend = "Write the number, or remove the line to take the table's";
    const value = field === undefined ? null : yaml.needed(field, SETTING_KINDS[name], mend);
    if (field !== undefined && value !== null)
      settings.set(name, { value, place: field.place, cited: null });
  }
  const rules = readRules((name, kind) => {
    const field = fields.get(name);
    const mend = "Write one of the words, or remove the line to take the table's";
    const word = field === undefined ? null : yaml.needed(field, kind, mend);
    return field === undefined || word === null ? null : { word, place: field.place, cited: null };
  });
  return { settings, rules };
}

function readSheets(yaml: YamlReader, entry: YamlEntry | undefined): readonly ChosenSheet[] {
  if (entry === undefined) return [];
  return yaml.items(entry).flatMap((item) => {
    const sheet = yaml.value(item, text);
    return sheet === null ? [] : [{ sheet, place: item.place }];
  });
}
