/**
 * The frame of a DXF file of release 2000 (AC1015), as the DXF reference lays it down: what a file
 * must have before anything is drawn in it. Its units are mm.
 */

/** A group: its code and its value. */
export type Group = readonly [code: number, value: string | number];

export interface Layer {
  readonly name: string;
  /** Index of the DXF colour table. */
  readonly colour: number;
  /** Whether it is plotted; what is not for the machine is not. */
  readonly plotted: boolean;
  readonly dashed?: boolean;
}

/** What is drawn; {@link dxfDocument} adds its handle and owner. */
export interface Entity {
  readonly type: string;
  readonly layer: string;
  /** From the entity's own subclass marker on. */
  readonly groups: readonly Group[];
}

/** The whole file as text: plain ASCII, lines ended as the format's own programs end them. */
export function dxfDocument(
  application: string,
  layers: readonly Layer[],
  entities: readonly Entity[],
  extent: { readonly widthMm: number; readonly heightMm: number },
): string {
  const handles = handleSource();
  const groups: readonly Group[] = [
    ...section("HEADER", header(extent)),
    ...section("CLASSES", []),
    ...section("TABLES", tables(application, layers, extent, handles)),
    ...section("BLOCKS", [...block(MODEL, handles), ...block(PAPER, handles)]),
    ...section(
      "ENTITIES",
      entities.flatMap((entity) => entityGroups(entity, handles)),
    ),
    ...section("OBJECTS", objects(handles)),
    [0, "EOF"],
  ];
  return groups.map(([code, value]) => `${code}\r\n${value}\r\n`).join("");
}

/** ASCII for any text: other characters as `\U+XXXX`, as the format writes them. */
export function dxfText(text: string): string {
  return text.replace(/[^\u0020-\u007e]/g, (unit) => {
    return `\\U+${unit.charCodeAt(0).toString(16).toUpperCase().padStart(4, "0")}`;
  });
}

interface Space {
  readonly name: string;
  readonly handle: string;
}

const MODEL: Space = { name: "*Model_Space", handle: "1" };
const PAPER: Space = { name: "*Paper_Space", handle: "2" };
const ROOT_HANDLE = "3";
const FIRST_FREE_HANDLE = 16;
/** Above every handle given out. */
const NEXT_FREE_HANDLE = "FFFFFF";
const MILLIMETRES = 4;
const METRIC = 1;

type Handles = () => string;

function handleSource(): Handles {
  let next = FIRST_FREE_HANDLE;
  return () => (next++).toString(16).toUpperCase();
}

function section(name: string, groups: readonly Group[]): Group[] {
  return [[0, "SECTION"], [2, name], ...groups, [0, "ENDSEC"]];
}

function header({ widthMm, heightMm }: { widthMm: number; heightMm: number }): Group[] {
  return [
    ...variable("$ACADVER", [1, "AC1015"]),
    ...variable("$DWGCODEPAGE", [3, "ANSI_1252"]),
    ...variable("$EXTMIN", [10, 0], [20, 0], [30, 0]),
    ...variable("$EXTMAX", [10, widthMm], [20, heightMm], [30, 0]),
    ...variable("$INSUNITS", [70, MILLIMETRES]),
    ...variable("$MEASUREMENT", [70, METRIC]),
    ...variable("$HANDSEED", [5, NEXT_FREE_HANDLE]),
  ];
}

function variable(name: string, ...groups: readonly Group[]): Group[] {
  return [[9, name], ...groups];
}

function tables(
  application: string,
  layers: readonly Layer[],
  extent: { widthMm: number; heightMm: number },
  handles: Handles,
): Group[] {
  const allLayers = [{ name: "0", colour: 7, plotted: true }, ...layers];
  const simple = (name: string, ...groups: readonly Group[]): Entry => ({ name, groups });
  return [
    ...table(
      "VPORT",
      "AcDbViewportTableRecord",
      [simple("*ACTIVE", ...wholeSheet(extent))],
      handles,
    ),
    ...table(
      "LTYPE",
      "AcDbLinetypeTableRecord",
      [...["ByBlock", "ByLayer", "Continuous"].map(solidLine), DASHED_LINE],
      handles,
    ),
    ...table("LAYER", "AcDbLayerTableRecord", allLayers.map(layerEntry), handles),
    ...table("STYLE", "AcDbTextStyleTableRecord", [simple("Standard", ...TEXT_STYLE)], handles),
    ...table("VIEW", "AcDbViewTableRecord", [], handles),
    ...table("UCS", "AcDbUCSTableRecord", [], handles),
    ...table(
      "APPID",
      "AcDbRegAppTableRecord",
      ["ACAD", application].map((name) => simple(name, [70, 0])),
      handles,
    ),
    ...table("DIMSTYLE", "AcDbDimStyleTableRecord", [simple("Standard", [70, 0])], handles),
    ...table("BLOCK_RECORD", "AcDbBlockTableRecord", [MODEL, PAPER].map(blockRecord), handles),
  ];
}

interface Entry {
  readonly name: string;
  /** Given beforehand where others point to it. */
  readonly handle?: string;
  readonly groups: readonly Group[];
}

function table(
  type: string,
  subclass: string,
  entries: readonly Entry[],
  handles: Handles,
): Group[] {
  const own = handles();
  // Dimension styles keep their handle under 105: 5 was taken there in older releases.
  const handleCode = type === "DIMSTYLE" ? 105 : 5;
  const records = entries.flatMap(({ name, handle, groups }): Group[] => [
    [0, type],
    [handleCode, handle ?? handles()],
    [330, own],
    [100, "AcDbSymbolTableRecord"],
    [100, subclass],
    [2, name],
    ...groups,
  ]);
  return [
    [0, "TABLE"],
    [2, type],
    [5, own],
    [330, 0],
    [100, "AcDbSymbolTable"],
    [70, entries.length],
    ...(type === "DIMSTYLE" ? ([[100, "AcDbDimStyleTable"]] as const) : []),
    ...records,
    [0, "ENDTAB"],
  ];
}

/** Corners of the view, its middle, its height and its ratio of sides. */
function wholeSheet({ widthMm, heightMm }: { widthMm: number; heightMm: number }): Group[] {
  return [
    [70, 0],
    [10, 0],
    [20, 0],
    [11, 1],
    [21, 1],
    [12, widthMm / 2],
    [22, heightMm / 2],
    [16, 0],
    [26, 0],
    [36, 1],
    [40, heightMm],
    [41, widthMm / heightMm],
  ];
}

/** 72 is always 65, the letter A; 73 dashes, 40 their length. */
function solidLine(name: string): Entry {
  return {
    name,
    groups: [
      [70, 0],
      [3, ""],
      [72, 65],
      [73, 0],
      [40, 0],
    ],
  };
}

/** As {@link solidLine}; 49 is the length of a dash, and below 0 of the gap after it, mm. */
const DASHED_LINE: Entry = {
  name: "Dashed",
  groups: [
    [70, 0],
    [3, ""],
    [72, 65],
    [73, 2],
    [40, 6],
    [49, 4],
    [74, 0],
    [49, -2],
    [74, 0],
  ],
};

function layerEntry({ name, colour, plotted, dashed = false }: Layer): Entry {
  return {
    name,
    groups: [
      [70, 0],
      [62, colour],
      [6, dashed ? DASHED_LINE.name : "Continuous"],
      [290, plotted ? 1 : 0],
      [370, -3],
    ],
  };
}

/** No fixed height, width factor 1, upright, the usual font. */
const TEXT_STYLE: readonly Group[] = [
  [70, 0],
  [40, 0],
  [41, 1],
  [50, 0],
  [71, 0],
  [42, 2.5],
  [3, "txt"],
  [4, ""],
];

function blockRecord({ name, handle }: Space): Entry {
  return { name, handle, groups: [[340, 0]] };
}

function block({ name, handle }: Space, handles: Handles): Group[] {
  const paper = name === PAPER.name ? ([[67, 1]] as const) : [];
  return [
    [0, "BLOCK"],
    [5, handles()],
    [330, handle],
    [100, "AcDbEntity"],
    ...paper,
    [8, "0"],
    [100, "AcDbBlockBegin"],
    [2, name],
    [70, 0],
    [10, 0],
    [20, 0],
    [30, 0],
    [3, name],
    [1, ""],
    [0, "ENDBLK"],
    [5, handles()],
    [330, handle],
    [100, "AcDbEntity"],
    ...paper,
    [8, "0"],
    [100, "AcDbBlockEnd"],
  ];
}

function entityGroups({ type, layer, groups }: Entity, handles: Handles): Group[] {
  return [
    [0, type],
    [5, handles()],
    [330, MODEL.handle],
    [100, "AcDbEntity"],
    [8, layer],
    ...groups,
  ];
}

/** The root dictionary and the one entry it must have. */
function objects(handles: Handles): Group[] {
  const groupsHandle = handles();
  return [
    [0, "DICTIONARY"],
    [5, ROOT_HANDLE],
    [330, 0],
    [100, "AcDbDictionary"],
    [281, 1],
    [3, "ACAD_GROUP"],
    [350, groupsHandle],
    [0, "DICTIONARY"],
    [5, groupsHandle],
    [330, ROOT_HANDLE],
    [100, "AcDbDictionary"],
    [281, 1],
  ];
}
