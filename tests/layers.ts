import { isBuiltin } from "node:module";
import { posix } from "node:path";
import { codeOf as readCode, importsOf as readImports } from "./imports.ts";
import type { Import } from "./imports.ts";

/**
 * The way imports go, from the shells down to the words that everything is said in. A file may use
 * what lies below its own tier; folders of one tier know each other's types only.
 */
export const TIERS: readonly (readonly string[])[] = [
  ["main"],
  ["cli", "tui"],
  ["files", "threads", "exports", "estimate"],
  ["nesting", "machine", "pricing", "fit", "log", "range", "difference"],
  ["drawing", "job"],
  ["geometry"],
  ["figure"],
  ["formulas"],
  ["arithmetic"],
  ["money", "units", "names", "problem", "csv", "random", "work"],
];

/** One layer in several files: the story, its data and its steps. */
const PART_OF: Readonly<Record<string, string>> = {
  "estimate-data": "estimate",
  stages: "estimate",
};

/** One shell starts the other. */
const PEERS_ALLOWED = new Set(["cli > tui"]);

/** Layers that may know the machine they run on. */
const SHELLS = ["main", "cli", "tui", "files", "threads"];

/** Modules with hands on the world, and the layers that may take them. */
const RESERVED: readonly { readonly module: RegExp; readonly only: readonly string[] }[] = [
  { module: /^node:fs(\/|$)/, only: ["files"] },
  { module: /^node:process$/, only: [] },
  { module: /^node:/, only: SHELLS },
  { module: /^write-file-atomic$/, only: ["files"] },
  { module: /^yargs(\/|$)/, only: ["cli"] },
  { module: /^(ink|react)(\/|$)/, only: ["tui"] },
];

/** Clock, chance, surroundings: the same input must give the same answer. */
const SURROUNDINGS =
  /(?<![.\w$])(?:process|console|Date|performance|setTimeout|setInterval|setImmediate|queueMicrotask|fetch|crypto|globalThis|global|require|eval|Function)\b(?!\s*:)|\bMath\b(?!\s*\.\s*(?!random\b)\w)|\bimport\.meta\b|\.(?:localeCompare|toLocale\w*)\b/g;

const ENDS_PROCESS = /\bprocess\s*\??\.\s*(?:exit|exitCode|abort|reallyExit)\b/g;

/**
 * Everything in which files break the layers.
 * @param files texts by path from the repository's root: `src/csv.ts`.
 */
export function layerFaults(files: ReadonlyMap<string, string>): readonly string[] {
  const faults = [...files].flatMap(([path, source]) => {
    const layer = layerOf(path);
    if (layer === null) return [`${path}: belongs to no layer`];
    const imports = importsOf(source);
    return [
      ...imports.flatMap((one) => importFaults({ path, layer, files }, one)),
      ...(SHELLS.includes(layer) ? [] : uses(path, source, SURROUNDINGS, "below the shells")),
      ...(layer === "main" ? [] : uses(path, source, ENDS_PROCESS, "outside main.ts")),
    ];
  });
  return [...faults, ...circles(files)];
}

/** `nesting` of `src/nesting/nest.ts`, `csv` of `src/csv.ts`; null for what is in no layer. */
function layerOf(path: string): string | null {
  const [, first = "", ...rest] = path.split("/");
  const name = rest.length === 0 ? first.replace(/\.ts$/, "") : first;
  const layer = PART_OF[name] ?? name;
  if (tierOf(layer) < 0) return null;
  return isFolder(name) === rest.length > 0 ? layer : null;
}

function isFolder(name: string): boolean {
  const alone = ["main", "estimate", "estimate-data", ...TIERS.slice(-4).flat()];
  return !alone.includes(name);
}

function tierOf(layer: string): number {
  return TIERS.findIndex((tier) => tier.includes(layer));
}

interface Importer {
  readonly path: string;
  readonly layer: string;
  readonly files: ReadonlyMap<string, string>;
}

function importFaults(importer: Importer, one: Import): readonly string[] {
  const at = `${importer.path}:${one.line}`;
  if (one.from === "") return [`${at}: imports a module whose name is worked out`];
  if (!one.from.startsWith(".")) return packageFaults(at, importer.layer, one.from);
  const to = resolved(importer.path, one.from);
  if (!importer.files.has(to)) return [`${at}: imports ${to}, which is not there`];
  const above = layerOf(to);
  if (above === null || above === importer.layer) return [];
  const step = tierOf(above) - tierOf(importer.layer);
  if (step < 0) return [`${at}: imports ${to}, which lies above`];
  const peers = `${importer.layer} > ${above}`;
  if (step === 0 && !one.typeOnly && !PEERS_ALLOWED.has(peers))
    return [`${at}: imports more than types of ${to}, which lies beside`];
  return [];
}

function packageFaults(at: string, layer: string, from: string): readonly string[] {
  const module = isBuiltin(from) && !from.startsWith("node:") ? `node:${from}` : from;
  const rule = RESERVED.find((one) => one.module.test(module));
  return rule && !rule.only.includes(layer) ? [`${at}: imports ${from} in ${layer}`] : [];
}

function uses(path: string, source: string, what: RegExp, where: string): readonly string[] {
  const code = codeOf(source);
  return [...code.matchAll(what)].map(
    ({ 0: word, index }) =>
      `${path}:${code.slice(0, index).split("\n").length}: uses ${word} ${where}`,
  );
}

/** Files that need each other to be loaded first. */
function circles(files: ReadonlyMap<string, string>): readonly string[] {
  const faults: string[] = [];
  const state = new Map<string, "open" | "closed">();
  const visit = (path: string, way: readonly string[]): void => {
    if (state.get(path) === "open") {
      faults.push(`${[...way.slice(way.indexOf(path)), path].join(" > ")}: a circle of imports`);
      return;
    }
    if (state.has(path)) return;
    state.set(path, "open");
    for (const { from, typeOnly } of importsOf(files.get(path) ?? ""))
      if (from.startsWith(".") && !typeOnly) visit(resolved(path, from), [...way, path]);
    state.set(path, "closed");
  };
  for (const path of files.keys()) visit(path, []);
  return faults;
}

/** The same source is judged many times over. */
const importsOf = remembered(readImports);
const codeOf = remembered(readCode);

function remembered<Answer>(read: (source: string) => Answer): (source: string) => Answer {
  const known = new Map<string, Answer>();
  return (source) => {
    const answer = known.get(source) ?? read(source);
    known.set(source, answer);
    return answer;
  };
}

function resolved(path: string, from: string): string {
  return posix.join(posix.dirname(path), from);
}
